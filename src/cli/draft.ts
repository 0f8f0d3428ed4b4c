// Owns the command `draft`: narrations and tables from the disk, a vehicle file and a report out.

import { existsSync, readFileSync, writeFileSync } from "node:fs";
import {
  COLUMNS,
  type Column,
  type Draft,
  draftVehicle,
  extendDraft,
  LANGUAGES,
  type Language,
  languageNamed,
  type OddLetters,
  readLanguage,
  sayPlace,
} from "../draft/index.ts";
import { readVehicle } from "../vehicle/index.ts";
import type { Call, CallFault } from "./call.ts";
import type { DraftDocument } from "./draft-documents.ts";
import { EXIT, type Exit } from "./exit.ts";
import { questionsIn, sayQuestions } from "./questions.ts";
import { refuse } from "./release.ts";
import type { Terminal } from "./terminal.ts";
import { openTold, sayLetters } from "./told.ts";

/** Questions that are told after a draft; check lists all. */
const FIRST = 6;

export function runDraft({ operands, flags }: Call, terminal: Terminal): Exit {
  const faults: CallFault[] = [];
  const texts = operands.flatMap((file) => {
    const told = openTold(file);
    if ("text" in told) return [{ file, ...told }];
    faults.push(told);
    return [];
  });
  const columns = new Map<string, Column>();
  for (const given of flags.get("column") ?? []) {
    const [name = "", what = ""] = given.split("=");
    const column = COLUMNS.find((one) => one === what);
    if (column === undefined)
      faults.push({
        what: `--column ${given} names no column of ours`,
        mend: `Write NAME=WHAT with one of ${COLUMNS.join(", ")}.`,
      });
    else columns.set(name.toLowerCase(), column);
  }
  const out = flags.get("out")?.[0];
  if (out !== undefined && existsSync(out))
    faults.push({ what: `${out} is there already`, mend: "Name another file, or take that one away." });
  const into = flags.get("into")?.[0];
  const grown = into === undefined ? undefined : openTold(into);
  if (grown !== undefined && ("what" in grown || grown.odd !== undefined))
    faults.push({
      what: "what" in grown ? grown.what : `${into} is no sound UTF-8`,
      mend: "Name the vehicle file that is to grow, saved as UTF-8.",
    });
  const spoken = flags.get("lang")?.[0];
  const language = spoken === undefined ? undefined : languageAt(spoken);
  if (language !== undefined && "what" in language) faults.push(language);
  if (faults.length > 0 || (language !== undefined && "what" in language)) return refuse(faults, terminal);
  for (const { file, odd } of texts) if (odd !== undefined) terminal.warn(sayLetters(file, odd));
  const name = flags.get("name")?.[0];
  const draft = draftVehicle(texts, { columns, ...(name === undefined ? {} : { name }) }, language);
  if (!("yaml" in draft)) {
    refuse(draft, terminal);
    return EXIT.not;
  }
  let { yaml } = draft;
  if (into !== undefined && grown !== undefined && "text" in grown) {
    const before = readVehicle(into, loaderOf(into, grown.text)).faults[0];
    if (before !== undefined)
      return refuse(
        [{ what: `${into} is no sound vehicle file: ${before.what.replace(/\.$/, "")}`, mend: before.mend }],
        terminal,
      );
    yaml = extendDraft(grown.text, draft.yaml).text;
    const [fault] = readVehicle(into, loaderOf(into, yaml)).faults;
    if (fault !== undefined) {
      terminal.warn(`With it ${into} would have a fault: ${fault.what} ${fault.mend} Nothing was written.`);
      return EXIT.not;
    }
  }
  const target = out ?? into;
  if (target !== undefined) writeFileSync(target, yaml);
  if (flags.has("json")) terminal.say(JSON.stringify(describeDraft({ ...draft, yaml }, texts), undefined, 2));
  else {
    terminal.say(sayDraft(draft, terminal));
    const file = target ?? "draft";
    const questions = questionsIn(yaml, file, readVehicle(file, loaderOf(file, yaml)));
    if (questions.length > 0) terminal.say(`\n${sayQuestions(questions, terminal, FIRST)}`);
    terminal.say(
      target === undefined
        ? `\n${yaml.trimEnd()}`
        : `\nWritten: ${target}. Next: unmoor check ${target}, then unmoor ask ${target}.`,
    );
  }
  return EXIT.found;
}

/** The text of a file that is not written yet; of what it includes, that of the disk. */
const loaderOf = (file: string, text: string) => (asked: string) =>
  asked === file ? text : readFileSync(asked, "utf8");

/** A language by its code, or of a file of its words. */
function languageAt(asked: string): Language | CallFault {
  const known = languageNamed(asked);
  if (known !== undefined) return known;
  if (existsSync(asked)) return readLanguage(readFileSync(asked, "utf8"), asked);
  return {
    what: `--lang ${asked} is no language that is known, and no file`,
    mend: `Write one of ${LANGUAGES.join(", ")}, or the name of a file of words.`,
  };
}

function sayDraft({ kinds, told, remarks }: Draft, { ink }: Terminal): string {
  const lines = kinds.flatMap(({ file, kind, odd, late = 0, overlapping = 0 }) => [
    `${file}: ${kind}.`,
    ...(late === 0 ? [] : [`  ${countCaptions(late)} behind one that begins later: they are read by their times.`]),
    ...(overlapping === 0
      ? []
      : [
          `  ${countCaptions(overlapping, "begins", "begin")} before the one before has ended: they are read one after the other.`,
        ]),
    ...odd.map(
      ({ line, text }) => `  line ${line}: the time could not be read and was left out; its words are used: ${text}`,
    ),
  ]);
  const place = (id: string | undefined) => told.positions.find((one) => one.id === id)?.label ?? "no position said";
  let last: string | undefined;
  for (const tie of told.ties) {
    const here = place(tie.at);
    if (here !== last) lines.push("", ink.strong(here));
    last = here;
    const source = tie.sources[0];
    lines.push(
      `  ${tie.label}: ${tie.kind}, ${tie.count ?? "?"}${tie.hardware === undefined ? "" : ` ${tie.hardware}`}${tie.undone ? "" : ", not undone"}; sure ${Math.round(tie.sure * 100)} %${source === undefined ? "" : `; ${sayPlace(source)}`}`,
    );
    for (const assumed of tie.assumed) lines.push(`    assumed: ${assumed}`);
  }
  if (told.tasks.length > 0) lines.push("", ink.strong("Tasks"), ...told.tasks.map(({ label }) => `  ${label}`));
  lines.push(
    "",
    remarks.length === 0
      ? "Nothing was found missing by the rules of remarks."
      : ink.doubt("Not said, and it matters:"),
  );
  for (const { text, source } of remarks)
    lines.push(`  ${text}${source === undefined ? "" : ` (${sayPlace(source)})`}`);
  return lines.join("\n");
}

const countCaptions = (many: number, one = "stands", more = "stand"): string =>
  `${many} caption${many === 1 ? ` ${one}` : `s ${more}`}`;

export function describeDraft(
  { kinds, told, joins, remarks, yaml }: Draft,
  texts: readonly { readonly file: string; readonly odd?: OddLetters }[] = [],
): DraftDocument {
  return {
    format: "unmoor/draft/1",
    files: kinds.map((one) => {
      const letters = texts.find(({ file }) => file === one.file)?.odd;
      return { ...one, odd: [...one.odd], ...(letters === undefined ? {} : { letters }) };
    }),
    positions: told.positions.map(({ id, label }) => ({ id, label })),
    connections: told.ties.map(
      ({ id, label, kind, count, hardware, at, verb, undone, torque, sure, assumed, sources }) => ({
        id,
        label,
        kind,
        ...(count === undefined ? {} : { count }),
        ...(hardware === undefined ? {} : { hardware }),
        ...(at === undefined ? {} : { position: at }),
        ...(verb === undefined ? {} : { verb }),
        undone,
        joins: [...(joins.get(id) ?? [])],
        ...(torque === undefined ? {} : { torque }),
        sure,
        assumed,
        sources,
      }),
    ),
    parts: told.parts.map(({ id, label, by, removed }) => ({ id, label, by, removed })),
    tasks: told.tasks.map(({ id, label, does, fluid, at, sources }) => ({
      id,
      label,
      does,
      ...(fluid === undefined ? {} : { fluid }),
      ...(at === undefined ? {} : { position: at }),
      sources,
    })),
    remarks: remarks.map((remark) => ({ ...remark, about: [...remark.about] })),
    yaml,
  };
}
