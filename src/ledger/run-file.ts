// Owns the run as a file: JSON Lines, a head with brief and keys, every entry letter for letter, an end with their count; and the proof of such a file.

import type { Brief } from "./brief.ts";
import { hashOf, writeCanonical } from "./canonical.ts";
import { readEntry, type Told } from "./entry.ts";
import { sentence } from "./fault.ts";
import { type Verifier, verifyEntries } from "./verify.ts";

export interface RunHead {
  readonly format: "unmoor/run/1";
  readonly brief: Brief;
  /** Public key of each device. */
  readonly keys: Readonly<Record<string, string>>;
}

/** What of a file is not as it was written: its line, from 1. */
export interface RunFault {
  readonly line: number;
  readonly rule: string;
  /** Id of the entry, where it can still be read. */
  readonly entry?: string;
  readonly what: string;
}

export interface RunReading {
  readonly head?: RunHead;
  readonly told: readonly Told[];
  readonly faults: readonly RunFault[];
}

/** The lines of a run's file, without their ends. */
export const writeRun = (
  brief: Brief,
  keys: ReadonlyMap<string, string>,
  texts: readonly string[],
): readonly string[] => {
  const head: RunHead = { format: "unmoor/run/1", brief, keys: Object.fromEntries([...keys].sort()) };
  const lines = [writeCanonical(head), ...texts];
  return [
    ...lines,
    writeCanonical({ format: "unmoor/run-end/1", entries: texts.length, sha256: hashOf(lines.join("\n")) }),
  ];
};

const parse = (line: string): Readonly<Record<string, unknown>> | undefined => {
  try {
    const value: unknown = JSON.parse(line);
    return typeof value === "object" && value !== null ? (value as Record<string, unknown>) : undefined;
  } catch {
    return undefined;
  }
};

/**
 * Reads a run's file to its end and proves it: every fault with its line; what can be read is given all the same.
 *
 * @param isSigned the check of one signature; the library's own where it is left out.
 */
export const readRun = (text: string, isSigned?: Verifier): RunReading => {
  const lines = text.split("\n");
  if (lines.at(-1) === "") lines.pop();
  const faults: RunFault[] = [];
  const first = parse(lines[0] ?? "");
  const head = first?.format === "unmoor/run/1" ? (first as unknown as RunHead) : undefined;
  if (head === undefined) {
    faults.push({
      line: 1,
      rule: "V10",
      what: "this is no run: its first line is not the head that unmoor run --export writes",
    });
    return { told: [], faults };
  }
  const end = parse(lines.at(-1) ?? "");
  const isWhole = end?.format === "unmoor/run-end/1";
  const body = isWhole ? lines.slice(1, -1) : lines.slice(1);
  if (!isWhole)
    faults.push({
      line: lines.length,
      rule: "V11",
      what: "the file is cut off: its last line is not the end of a run",
    });
  else if (end.sha256 !== hashOf(lines.slice(0, -1).join("\n")))
    faults.push({
      line: lines.length,
      rule: "V12",
      what: `a line was changed, left out or added: ${end.entries} entries were written, ${body.length} are there`,
    });
  const told: Told[] = [];
  const lineOf = new Map<string, number>();
  for (const [n, line] of body.entries()) {
    const reading = readEntry(line);
    if ("faults" in reading) {
      const id = parse(line)?.id;
      const entry = typeof id === "string" ? { entry: id } : {};
      faults.push(
        ...reading.faults.map((fault) => ({ line: n + 2, rule: fault.rule, ...entry, what: sentence(fault) })),
      );
    } else {
      told.push(reading.told);
      lineOf.set(reading.told.entry.id, n + 2);
    }
  }
  const keys = new Map(Object.entries(head.keys));
  for (const { rule, entry, what } of verifyEntries(
    head.brief.run,
    told,
    keys,
    isSigned === undefined ? {} : { isSigned },
  ))
    faults.push({ line: lineOf.get(entry) ?? 0, rule, entry, what });
  return { head, told, faults: faults.sort((a, b) => a.line - b.line) };
};
