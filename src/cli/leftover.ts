// Owns the command `leftover`: from what lies there at the end and which bags are open, the connections that could be short.

import { type Bag, type Counted, type Leftover, rankLeftover } from "../fastening/index.ts";
import { bagsOf, type Plan } from "../plan/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { computeAside } from "./background.ts";
import type { Call, CallFault } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { LeftoverDocument } from "./fastening-documents.ts";
import { refuse, takeAsked, tellRelease } from "./release.ts";
import { type Terminal, wrap } from "./terminal.ts";
import type { Answer, Asked } from "./thread.ts";
import { placed } from "./torque-question.ts";
import { mendWord } from "./words.ts";

/** Suspects that fit on a screen; the document has them all. */
const SHOWN = 8;

export async function runLeftover(call: Call, terminal: Terminal): Promise<Exit> {
  const path = call.operands[0] ?? "";
  const left = (call.flags.get("left") ?? []).map(readLeft);
  const faults: CallFault[] = left.flatMap((one) => ("what" in one ? [one] : []));
  if (left.length === 0) faults.push({ what: "leftover needs what is left", mend: 'Write --left "3 M8×25".' });
  if (faults.length > 0) return refuse(faults, terminal);
  const asked = await takeAsked("plan", path, call, terminal);
  if (typeof asked === "number") return asked;
  const answer = await computeAside<Asked, Answer>(asked, terminal);
  const json = call.flags.has("json");
  if (answer.plan === undefined) {
    return tellRelease(call, asked.question, answer, terminal);
  }
  const { vehicle } = asked.question;
  const bags = bagsAsSeen(answer.plan, vehicle, call);
  if ("faults" in bags) return refuse(bags.faults, terminal);
  const counted = left.filter((one): one is Counted => !("what" in one));
  const ranked = rankLeftover({ bags: bags.bags, left: counted });
  if ("faults" in ranked) return refuse(ranked.faults.map(placed), terminal);
  const document = describe(path, counted, ranked.answer, bags.bags, vehicle);
  terminal.say(json ? JSON.stringify(document, undefined, 2) : sayLeftover(document, terminal));
  return EXIT.found;
}

/** "3 M8×25", "3 × M8×25", "3×M8×25": a count and an item. */
function readLeft(text: string): Counted | CallFault {
  const match = /^\s*(-?\d+(?:\.\d+)?)(?:\s*[×x]\s*(?=\p{L})|\s+(?:[×x]\s+)?)(.*\S)\s*$/u.exec(text);
  if (match === null) return { what: `--left: "${text}" is no count of an item`, mend: 'Write --left "3 M8×25".' };
  const count = Number(match[1]);
  if (!Number.isInteger(count) || count < 1)
    return {
      what: `--left: ${match[1]} of ${match[2]} cannot be left`,
      mend: "Count what lies there: a whole number from 1.",
    };
  return { item: match[2] as string, count };
}

const plain = (text: string): string =>
  text
    .toLowerCase()
    .replace(/(?<=\d) ?[x*×] ?(?=\d)/g, "×")
    .replace(/\s+/g, " ")
    .trim();

/** "bell-bolts: 11 M10×45", or "bell-bolts: 11" where the bag has one kind: what was counted as it went in. */
function readIn(text: string, bags: readonly Bag[]): { connection: string; item: string; count: number } | CallFault {
  const match = /^\s*([^:\s]+)\s*:\s*(\d+)\b\s*(?:[×x]\s+)?(.*?)\s*$/.exec(text);
  const example = 'Write --counted "bell-bolts: 11 bolt M10×45".';
  if (match === null) return { what: `--counted: "${text}" is no connection with a count`, mend: example };
  const [, id = "", digits = "", wanted = ""] = match;
  const bag = bags.find(({ connection }) => connection === id);
  if (bag === undefined)
    return {
      what: `--counted: this job has no bag of ${id}`,
      mend: mendWord(
        id,
        bags.map(({ connection }) => connection),
      ),
    };
  const meant = bag.items.filter(({ item }) => plain(item).includes(plain(wanted)));
  const [one] = meant;
  const names = bag.items.map(({ item }) => item).join(", ");
  if (one === undefined) return { what: `--counted: the bag of ${id} has no ${wanted}`, mend: `It has ${names}.` };
  if (meant.length > 1)
    return { what: `--counted: the bag of ${id} has more than one ${wanted || "kind"}`, mend: `Name one of ${names}.` };
  const count = Number(digits);
  if (count > one.count)
    return {
      what: `--counted: ${count} × ${one.item} went into ${id}, and ${one.count} came out`,
      mend: "Count again: one of the two is wrong, or a piece is another's.",
    };
  return { connection: id, item: one.item, count };
}

function bagsAsSeen(
  plan: Plan,
  vehicle: Vehicle,
  { flags }: Call,
): { readonly bags: readonly Bag[] } | { readonly faults: readonly CallFault[] } {
  const bags = bagsOf(plan, vehicle);
  const known = bags.map(({ connection }) => connection);
  const list = (name: string) => flags.get(name) ?? [];
  const faults = ["open", "closed", "marked"].flatMap((name) =>
    list(name)
      .filter((id) => !known.includes(id))
      .map((id): CallFault => ({ what: `--${name}: this job has no bag of ${id}`, mend: mendWord(id, known) })),
  );
  if (flags.has("open") && flags.has("closed"))
    faults.push({
      what: "--open and --closed both say which bags are open",
      mend: "Give the shorter list of the two.",
    });
  const written = list("counted").map((text) => readIn(text, bags));
  faults.push(...written.flatMap((one) => ("what" in one ? [one] : [])));
  if (faults.length > 0) return { faults };
  const counts = new Map(
    written.flatMap((one) => ("what" in one ? [] : [[`${one.connection}\n${one.item}`, one.count]])),
  );
  const open = new Set(list("open"));
  const closed = new Set(list("closed"));
  const marked = new Set(list("marked"));
  const torqued = new Set(
    plan.back.flatMap(({ steps }) => steps.flatMap(({ id, torque }) => (torque === undefined ? [] : [id]))),
  );
  return {
    bags: bags.map((bag) => ({
      ...bag,
      items: bag.items.map((one) => {
        const into = counts.get(`${bag.connection}\n${one.item}`);
        return into === undefined ? one : { ...one, in: into };
      }),
      open: flags.has("open") ? open.has(bag.connection) : !closed.has(bag.connection),
      // A joint without a torque has no mark to miss.
      ...(flags.has("marked") && torqued.has(bag.connection) ? { marked: marked.has(bag.connection) } : {}),
    })),
  };
}

function describe(
  file: string,
  left: readonly Counted[],
  { suspects, stray, unknown }: Leftover,
  bags: readonly Bag[],
  vehicle: Vehicle,
): LeftoverDocument {
  const places = new Map(bags.map(({ connection, place }) => [connection, place]));
  return {
    format: "unmoor/leftover/1",
    file,
    left,
    suspects: suspects.map((suspect) => {
      const position = places.get(suspect.connection);
      return {
        ...suspect,
        label: vehicle.connections.find(({ id }) => id === suspect.connection)?.label ?? suspect.connection,
        ...(position === undefined ? {} : { position }),
      };
    }),
    stray,
    unknown,
  };
}

function sayLeftover({ left, suspects, stray, unknown }: LeftoverDocument, { ink, width }: Terminal): string {
  const list = (items: readonly Counted[]) => items.map(({ item, count }) => `${count} × ${item}`).join(", ");
  // What would be told as 0.0 % is in the document, and nobody opens a bag for it.
  const told = suspects.filter(({ chance }) => chance >= 0.0005);
  const percent = (chance: number) => `${(chance * 100).toFixed(chance < 0.1 ? 1 : 0)} %`;
  return [
    ink.strong(`Left: ${list(left)}`),
    ...(told.length === 0 ? ["  No bag of this job accounts for it."] : ["  Open and look, in this order:"]),
    ...told
      .slice(0, SHOWN)
      .flatMap(({ connection, label, position, chance, lacks, swappedWith }, i) =>
        wrap(
          `${i + 1}. ${label} (${connection})${position === undefined ? "" : `, ${position}`}: ${percent(chance)}${lacks.length > 0 ? `, lacks ${list(lacks)}` : ""}${swappedWith === undefined ? "" : `, may have changed pieces with ${swappedWith}`}`,
          width,
          "  ",
        ),
      ),
    ...(told.length > SHOWN ? [`  and ${told.length - SHOWN} more, in --json`] : []),
    ...(told.length === 0 ? [] : [`  Something of it from elsewhere: ${percent(stray)}`]),
    ...unknown.map((item) => `  ${ink.doubt(`No bag of this job had ${item}.`)}`),
  ].join("\n");
}
