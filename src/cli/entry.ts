// Owns the command `entry`: one thing that was done, or a file of them, taken by the run's desk.

import { readFileSync } from "node:fs";
import { type Body, isKind, KINDS, type Kind } from "../ledger/index.ts";
import type { Desk, EntryDocument, Taking } from "../server/index.ts";
import type { Call, CallFault } from "./call.ts";
import { ENTRY_FIELDS } from "./entry-fields.ts";
import { EXIT, type Exit } from "./exit.ts";
import { refuse } from "./release.ts";
import { sayGates, sayReplan, shortId } from "./run-text.ts";
import { atShop, type Shop } from "./shop.ts";
import type { Terminal } from "./terminal.ts";
import { mendWord } from "./words.ts";

interface Said {
  readonly author: string;
  readonly body: unknown;
  readonly sure: boolean;
}

export function runEntry(call: Call, terminal: Terminal): Promise<Exit> | Exit {
  const [, id = ""] = call.operands;
  const said = readSaid(call, terminal);
  if (isFaults(said)) return refuse(said, terminal);
  return atShop(call, terminal, async (shop) => {
    const photos = await keepPhotos(shop, call);
    if (isFaults(photos)) return refuse(photos, terminal);
    const desk = await shop.desk(id);
    const takings: Taking[] = [];
    let exit: Exit = EXIT.found;
    for (const [n, one] of said.entries()) {
      const body = photos.length === 0 ? one.body : { ...(one.body as object), photos };
      const taking = await desk.take(one.author, body, { sure: one.sure });
      takings.push(taking);
      if (!call.flags.has("json")) tell(taking, said.length > 1 ? `line ${n + 1}: ` : "", desk, terminal);
      if ("refused" in taking) {
        exit = EXIT.not;
        break;
      }
    }
    if (call.flags.has("json")) terminal.say(JSON.stringify(describe(takings), undefined, 2));
    else if (said.length > 1)
      terminal.say(`${takings.filter((one) => "told" in one).length} of ${said.length} entered.`);
    return exit;
  });
}

const isFaults = (value: readonly unknown[]): value is readonly CallFault[] => {
  const [first] = value;
  return typeof first === "object" && first !== null && "mend" in first;
};

/** The entries of a call: the one that its words make, or every line of a file. */
function readSaid(call: Call, terminal: Terminal): readonly Said[] | readonly CallFault[] {
  const path = call.flags.get("from-file")?.[0];
  if (path !== undefined) return readLines(path, terminal);
  const author = call.flags.get("by")?.[0];
  if (author === undefined) return [{ what: "entry needs --by", mend: "Say who did it: --by WHO." }];
  const [, , word, about] = call.operands;
  if (word === undefined)
    return [{ what: "entry needs KIND", mend: `Write one of: ${Object.keys(KINDS).join(", ")}.` }];
  const kind = word.replaceAll("-", " ").replace("hand over", "handing over");
  const known = isKind(word) ? word : isKind(kind) ? kind : undefined;
  if (known === undefined)
    return [{ what: `there is no kind of entry ${word}`, mend: mendWord(word, Object.keys(KINDS)) }];
  return [{ author, body: bodyOf(known, about, call), sure: call.flags.has("sure") }];
}

/** The fields of a kind from the flags; the last word of the call is the first field. What is wrong with them, the reader of entries says. */
function bodyOf(kind: Kind, about: string | undefined, { flags }: Call): Record<string, unknown> {
  const fields: Readonly<Record<string, string>> = KINDS[kind].fields;
  const body: Record<string, unknown> = { kind };
  const [first] = Object.keys(fields);
  if (about !== undefined && first !== undefined) body[first] = about;
  for (const { name } of ENTRY_FIELDS) {
    const given = flags.get(name);
    if (given === undefined) continue;
    body[name] = fieldOf(fields[name]?.replace("?", "") ?? "", given);
  }
  return body;
}

function fieldOf(sort: string, given: readonly string[]): unknown {
  if (sort === "count") return Number(given[0]);
  if (sort === "flag") return true;
  if (sort === "numbers")
    return given
      .flatMap((one) => one.split(/[\s,]+/))
      .filter((one) => one !== "")
      .map(Number);
  if (sort === "people" || sort === "photos" || sort === "voices") return given;
  if (sort === "amounts")
    return Object.fromEntries(
      given.map((one) => {
        const match = /^\s*(.*?)\s*[:= ]\s*([\d.]+\s*\S+)\s*$/.exec(one);
        return [match?.[1] ?? one, match?.[2] ?? ""];
      }),
    );
  return given.join(", ");
}

function readLines(path: string, terminal: Terminal): readonly Said[] | readonly CallFault[] {
  let text: string;
  try {
    text = path === "-" ? terminal.input() : readFileSync(path, "utf8");
  } catch (error) {
    return [
      { what: `${path} cannot be read: ${error instanceof Error ? error.message : error}`, mend: "Check the path." },
    ];
  }
  const said: Said[] = [];
  for (const [n, line] of text.split("\n").entries()) {
    if (line.trim() === "") continue;
    try {
      const { by, sure, ...body } = JSON.parse(line) as { by?: unknown; sure?: unknown };
      if (typeof by !== "string")
        return [
          {
            what: `${path}, line ${n + 1}: it does not say by whom`,
            mend: 'Write {"by": "emil", "kind": "released", "at": "coupling"}.',
          },
        ];
      said.push({ author: by, body, sure: sure === true });
    } catch {
      return [
        {
          what: `${path}, line ${n + 1}: it is no JSON`,
          mend: 'Write {"by": "emil", "kind": "released", "at": "coupling"}.',
        },
      ];
    }
  }
  return said.length > 0 ? said : [{ what: `${path} holds no entry`, mend: "Write one a line." }];
}

async function keepPhotos(shop: Shop, call: Call): Promise<readonly string[] | readonly CallFault[]> {
  const digests: string[] = [];
  for (const path of call.flags.get("photo") ?? []) {
    try {
      digests.push(await shop.keepPhoto(readFileSync(path)));
    } catch (error) {
      if (!(error instanceof Error && "code" in error && error.code === "ENOENT")) throw error;
      return [{ what: `${path}: no such photo`, mend: "Check the path." }];
    }
  }
  return digests;
}

function tell(taking: Taking, before: string, desk: Desk, terminal: Terminal): void {
  if ("refused" in taking) {
    const { what, mend, gates } = taking.refused;
    terminal.warn(`unmoor: ${before}not entered: ${what}${/[.?]$/.test(what) ? "" : "."} ${mend}`);
    if (gates !== undefined) terminal.say(sayGates(gates, terminal));
    return;
  }
  for (const { entry } of taking.told)
    if (before === "") terminal.say(sayEntry(entry.body, desk, entry.author, entry.id));
  for (const warning of taking.warnings) terminal.warn(terminal.ink.doubt(`${before}${warning}`));
  if (taking.replan !== undefined) terminal.say(sayReplan(taking.replan));
}

function sayEntry(body: Body, desk: Desk, author: string, id: string): string {
  const { kind, ...fields } = body;
  const said = Object.values(fields as Record<string, unknown>).map((one) => {
    if (typeof one !== "string") return JSON.stringify(one);
    return desk.ledger.entry(one) === undefined ? desk.label(one) : shortId(one);
  });
  return `${author === "store" ? "The store" : desk.person(author)}: ${kind}${said.length === 0 ? "" : `: ${said.join(", ")}`}  (${shortId(id)})`;
}

const describe = (takings: readonly Taking[]): EntryDocument => ({
  format: "unmoor/entries/1",
  entries: takings.flatMap((one) => ("told" in one ? one.told.map(({ entry }) => entry) : [])),
  warnings: takings.flatMap((one) => ("told" in one ? one.warnings : [])),
  refused: takings.flatMap((one) =>
    "refused" in one ? [{ what: one.refused.what, mend: one.refused.mend, gates: one.refused.gates ?? [] }] : [],
  ),
  replans: takings.flatMap((one) => {
    if (!("told" in one) || one.replan === undefined) return [];
    const { replan } = one;
    return [
      replan.kind === "none"
        ? { status: "none" as const, why: replan.why, because: replan.because, added: [], dropped: [], altered: [] }
        : {
            status: replan.status,
            left: replan.left,
            before: replan.before,
            because: replan.because,
            added: replan.added,
            dropped: replan.dropped,
            altered: replan.altered,
          },
    ];
  }),
});
