// Owns the reading of runs: observations as JSON Lines, one a line, each fault with its line, what is wrong and what mends it.

/** A piece of work as it went: the release of a connection, or with `back` its refit. */
export interface Observation {
  /** 1 for the first line of its file. */
  readonly line: number;
  readonly file: string;
  readonly connection: string;
  readonly way?: string;
  readonly back: boolean;
  readonly people: readonly string[];
  /** Minutes since 1970, and of the work itself: what came between is taken off. */
  readonly end: number;
  readonly minutes: number;
  readonly broken: boolean;
  readonly causes: readonly { readonly cause: string; readonly minutes: number }[];
}

/** A tie, as it was verified. */
export interface Verified {
  readonly line: number;
  readonly file: string;
  readonly connection: string;
  readonly stillMade: boolean;
  readonly due: "early" | "middle" | "late";
}

export interface RunFault {
  readonly file: string;
  readonly line: number;
  readonly what: string;
  readonly mend: string;
}

export interface Runs {
  readonly observations: readonly Observation[];
  readonly looks: readonly Verified[];
  readonly faults: readonly RunFault[];
}

type Line = Readonly<Record<string, unknown>>;

const KNOWN = [
  "vehicle",
  "connection",
  "way",
  "back",
  "person",
  "people",
  "start",
  "end",
  "broken",
  "causes",
  "stillMade",
  "due",
];
const DUE = ["early", "middle", "late"] as const;

const isRecord = (value: unknown): value is Line =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const isText = (value: unknown): value is string => typeof value === "string" && value !== "";

const momentOf = (value: unknown): number | undefined => {
  const at = isText(value) ? Date.parse(value) / 60_000 : Number.NaN;
  return Number.isFinite(at) ? at : undefined;
};

const peopleOf = ({ person, people }: Line): readonly string[] | undefined => {
  const list = people ?? (person === undefined ? [] : [person]);
  return Array.isArray(list) && list.every(isText) ? list : undefined;
};

const causesOf = ({ causes = [] }: Line): Observation["causes"] | undefined => {
  if (!Array.isArray(causes)) return undefined;
  const read = causes.flatMap((one) =>
    isRecord(one) && isText(one.cause) && typeof one.minutes === "number" && one.minutes >= 0
      ? [{ cause: one.cause, minutes: one.minutes }]
      : [],
  );
  return read.length === causes.length ? read : undefined;
};

/**
 * Reads runs of one vehicle. Blank lines are passed over; every fault is given, and what has none is read all the same.
 *
 * @param vehicle the name in the vehicle file: a line that names another is a fault.
 */
export const readRuns = (file: string, text: string, vehicle: string): Runs => {
  const observations: Observation[] = [];
  const looks: Verified[] = [];
  const faults: RunFault[] = [];
  for (const [index, raw] of text.split("\n").entries()) {
    if (raw.trim() === "") continue;
    const line = index + 1;
    const fail = (what: string, mend: string) => faults.push({ file, line, what, mend });
    let read: unknown;
    try {
      read = JSON.parse(raw);
    } catch {
      fail("it is no JSON", "Write one JSON object a line.");
      continue;
    }
    if (!isRecord(read)) {
      fail("it is no JSON object", 'Write {"connection": …, "start": …, "end": …}.');
      continue;
    }
    const before = faults.length;
    const strange = Object.keys(read).filter((key) => !KNOWN.includes(key));
    if (strange.length > 0) fail(`nothing is called ${strange.join(", ")}`, `There are: ${KNOWN.join(", ")}.`);
    if (read.vehicle !== undefined && read.vehicle !== vehicle)
      fail(`it is a run of "${String(read.vehicle)}", not of "${vehicle}"`, "Learn it with its own vehicle file.");
    const { connection, way, stillMade, due = "middle" } = read;
    if (!isText(connection)) {
      fail("it names no connection", 'Write "connection": its id in the vehicle file.');
      continue;
    }
    if (stillMade !== undefined) {
      const known = DUE.find((one) => one === due);
      if (typeof stillMade !== "boolean" || known === undefined)
        fail("it is no look at a tie", 'Write "stillMade": true or false, and "due": early, middle or late.');
      else if (faults.length === before) looks.push({ line, file, connection, stillMade, due: known });
      continue;
    }
    const [start, end, people, causes] = [momentOf(read.start), momentOf(read.end), peopleOf(read), causesOf(read)];
    if (start === undefined || end === undefined)
      fail("start or end is no moment", 'Write both as "2026-03-01T08:10": date and time.');
    if (people === undefined) fail("its people are no names", 'Write "people": ["ann", "bo"], or "person": "ann".');
    if (causes === undefined) fail("its causes are not read", 'Write "causes": [{"cause": "waiting", "minutes": 5}].');
    if (way !== undefined && !isText(way)) fail("its way is no id", 'Write "way": the id of a way, pipe/2.');
    if (start === undefined || end === undefined || people === undefined || causes === undefined) continue;
    const minutes = end - start - causes.reduce((sum, one) => sum + one.minutes, 0);
    if (!(minutes > 0))
      fail(
        `${Math.round(minutes * 100) / 100} min are left for the work`,
        "Its end must lie after its start by more than its causes take.",
      );
    if (faults.length > before) continue;
    observations.push({
      line,
      file,
      connection,
      ...(isText(way) ? { way } : {}),
      back: read.back === true,
      people,
      end,
      minutes,
      broken: read.broken === true,
      causes,
    });
  }
  return { observations, looks, faults };
};
