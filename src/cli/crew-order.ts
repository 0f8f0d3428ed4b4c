// Owns the crew as the flags give it: a number, ids of the shop's people, or a crew file; and how far the work has got.

import { readFileSync } from "node:fs";
import { type Crew, crewOf, crewOfShop, type Earlier, type Order, readCrew, type Standing } from "../plan/index.ts";
import type { Fault, Vehicle } from "../vehicle/index.ts";
import type { Call, CallFault } from "./call.ts";
import { mendWord } from "./words.ts";

/** A crew, and the people of it as an order knows them. */
export interface CrewGiven {
  readonly crew: Crew;
  readonly people: NonNullable<Order["people"]>;
}

const isFile = (word: string): boolean => /\.ya?ml$/i.test(word);

/** The text of a file beside the vehicle's, or why there is none. */
export const readText = (path: string): string | CallFault => {
  try {
    return readFileSync(path, "utf8");
  } catch (error) {
    const why = error instanceof Error && "code" in error && error.code === "ENOENT" ? "no such file" : String(error);
    return { what: `${path} cannot be read: ${why}`, mend: "Check the path." };
  }
};

/** The crew of a call; faults of the call, or of the crew file. */
export function readCrewFlag(
  { shop }: Vehicle,
  given: readonly string[],
): CrewGiven | { readonly call: readonly CallFault[] } | { readonly file: readonly Fault[]; readonly path: string } {
  const [first] = given;
  const number = Number(first);
  if (given.length === 1 && first !== undefined && isFile(first)) {
    const text = readText(first);
    if (typeof text !== "string") return { call: [text] };
    const { crew, faults } = readCrew(first, text);
    if (crew === undefined) return { file: faults, path: first };
    if (crew.people.length === 0)
      return { call: [{ what: `${first} names nobody`, mend: "Write under people who is there." }] };
    return { crew, people: crew.people };
  }
  if (
    given.length === 1 &&
    first !== undefined &&
    /^[-+]?[\d.]+$/.test(first) &&
    !(Number.isInteger(number) && number >= 1)
  )
    return { call: [{ what: `a crew of ${first}`, mend: "Write a whole number of people from 1." }] };
  if (given.length === 1 && Number.isInteger(number) && number >= 1) return { crew: crewOf(number), people: number };
  const known = shop.people.map(({ id }) => id);
  const faults = given
    .filter((id) => !known.includes(id))
    .map(
      (id): CallFault => ({
        what: `nobody in the shop is called ${id}`,
        mend: `${mendWord(id, known)} A number of people or a file, *.crew.yaml, will do as well.`,
      }),
    );
  const people = shop.people.filter(({ id }) => given.includes(id));
  return faults.length > 0 ? { call: faults } : { crew: crewOfShop(people), people };
}

const isNumbers = (value: unknown, ...keys: readonly string[]): boolean =>
  typeof value === "object" &&
  value !== null &&
  keys.every((key) => typeof (value as Record<string, unknown>)[key] === "number");

/** An earlier answer of `plan --crew … --json`. */
export const readEarlier = (path: string): Earlier | CallFault => {
  const text = readText(path);
  if (typeof text !== "string") return text;
  try {
    const read = JSON.parse(text) as Partial<Earlier> | null;
    const sound =
      Array.isArray(read?.steps) &&
      Array.isArray(read.changes) &&
      read.steps.every((step) => isNumbers(step, "start", "free", "end") && Array.isArray(step.people)) &&
      read.changes.every((change) => isNumbers(change, "start", "end") && Array.isArray(change.people));
    if (sound) return read as Earlier;
  } catch {
    // Said below: what is no JSON is no schedule either.
  }
  return { what: `${path} is no schedule`, mend: "Give what unmoor plan --crew … --json wrote." };
};

const BEGUN = /^([^@]+)@(-?\d+(?:\.\d+)?)=(.+)$/;

/** How the work stands; undefined when the call says nothing of it. */
export function readStanding({ flags }: Call): Standing | readonly CallFault[] | undefined {
  const list = (name: string) => flags.get(name) ?? [];
  const [now] = list("now");
  const asked = ["now", "done", "begun", "open", "on", "told"].filter((name) => flags.has(name));
  if (asked.length === 0) return undefined;
  const faults: CallFault[] = [];
  if (now === undefined)
    faults.push({
      what: `--${asked[0]} is given without --now`,
      mend: "Say at which minute the work stands: --now 95.",
    });
  const minute = Number(now ?? 0);
  if (!(minute >= 0))
    faults.push({ what: `--now ${now} is no number of minutes`, mend: "Write for example --now 95." });
  const begun = list("begun").flatMap((word) => {
    const found = BEGUN.exec(word);
    if (found !== null) return [{ id: found[1] ?? "", start: Number(found[2]), people: (found[3] ?? "").split("+") }];
    faults.push({
      what: `--begun ${word} is not understood`,
      mend: "Write STEP@MINUTE=PERSON+PERSON: pump-flange@83=dora+emil.",
    });
    return [];
  });
  const [path] = list("told");
  const told = path === undefined ? undefined : readEarlier(path);
  if (told !== undefined && "what" in told) faults.push(told);
  if (faults.length > 0) return faults;
  return {
    now: minute,
    done: list("done"),
    begun,
    open: list("open"),
    ...(flags.has("on") ? { on: list("on") } : {}),
    ...(told === undefined || "what" in told ? {} : { told }),
  };
}
