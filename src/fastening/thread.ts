// Owns a screw thread: its size, its geometry, and the reading of its designation.

import { type Metres, metres } from "../quantity/index.ts";
import type { Fault } from "./fault.ts";
import { METRIC, NUMBERED, type Series, UNIFIED } from "./thread-tables.ts";

/** A standard thread. Lengths in metres. */
export interface Thread {
  /** As it is written without doubt: "M10×1.5", "3/8-16 UNC". */
  readonly name: string;
  readonly series: Series;
  readonly diameter: Metres;
  readonly pitch: Metres;
}

/** A designation read: the thread, the length behind it if there is one, and what was assumed. */
export interface ThreadReading {
  readonly thread: Thread;
  readonly length?: Metres;
  readonly assumed?: string;
}

const INCH = 0.0254;
const MM = 1e-3;
const ROOT3 = Math.sqrt(3);

/** Pitch diameter d2 in metres; 60° profile of ISO 68-1 and of UN. */
export const pitchDiameter = (thread: Thread): Metres => metres(thread.diameter - ((3 * ROOT3) / 8) * thread.pitch);

/** Root diameter d3 in metres, same profile. */
export const rootDiameter = (thread: Thread): Metres => metres(thread.diameter - ((17 * ROOT3) / 24) * thread.pitch);

/** True of the unified series, whose sizes are in inches. */
export const isInch = (thread: Thread): boolean => thread.series === "UNC" || thread.series === "UNF";

/**
 * Diameter of the stress section, metres: the mean of d2 and d3 (ISO 898-1, 9.1.6.1), which is d − 0.9382 P. ASME B1.1 takes
 * D − 0.9743/n for the same thing on inch threads; the areas differ by one or two per cent, so each standard has its own.
 */
export const stressDiameter = (thread: Thread): Metres =>
  metres(isInch(thread) ? thread.diameter - 0.9743 * thread.pitch : (pitchDiameter(thread) + rootDiameter(thread)) / 2);

/** Area of the stress section in m². */
export const stressArea = (thread: Thread): number => (Math.PI / 4) * stressDiameter(thread) ** 2;

/** A number as it is written in a designation: no zeros behind. */
const figure = (value: number): string => String(Number(value.toFixed(3)));

const metric = (size: number, pitch: number, series: Series): Thread => ({
  name: `M${figure(size)}×${figure(pitch)}`,
  series,
  diameter: metres(size * MM),
  pitch: metres(pitch * MM),
});

const unified = (size: string, diameter: number, perInch: number, series: Series): Thread => ({
  name: `${size}-${figure(perInch)} ${series}`,
  series,
  diameter: metres(diameter * INCH),
  pitch: metres(INCH / perInch),
});

/** Every thread known, by size, coarse first. */
export const THREADS: readonly Thread[] = [
  ...METRIC.flatMap(([size, coarse, ...fine]) => [
    metric(size, coarse, "M"),
    ...fine.map((pitch) => metric(size, pitch, "MF")),
  ]),
  ...UNIFIED.flatMap(([size, diameter, coarse, fine]) => [
    ...(coarse === undefined ? [] : [unified(size, diameter, coarse, "UNC")]),
    ...(fine === undefined ? [] : [unified(size, diameter, fine, "UNF")]),
  ]),
];

const byName = new Map(THREADS.map((thread) => [thread.name, thread]));

/** A size in inches: "3/8", "1 1/2", "1-1/2", "0.25", "#10". */
const SIZE = String.raw`(?:(?:\d+[ -])?\d+\/\d+|\d+(?:\.\d+)?|#\d+|No\.? ?\d+)`;
const METRIC_FORM = /\bM ?(\d+(?:\.\d+)?)(?: ?[x×*] ?(\d+(?:\.\d+)?))?(?: ?[x×*] ?(\d+(?:\.\d+)?))?(?![\d.])/iu;
const UNIFIED_FORM = new RegExp(
  String.raw`(?<![\d/.])(${SIZE}) ?- ?(\d+(?:\.5)?)(?![\d/])(?: ?(UNC|UNF|NC|NF))?(?: ?[x×] ?(${SIZE}))?`,
  "iu",
);

const inches = (text: string): number => {
  const fraction = /^(?:(\d+)[ -])?(\d+)\/(\d+)$/.exec(text);
  if (fraction === null) return Number(text);
  return Number(fraction[1] ?? 0) + Number(fraction[2]) / Number(fraction[3]);
};

/**
 * Reads the first thread designation in a text: "M10x1.5", "bolt M10×45", "M14×1.5×35", "3/8-16 UNC".
 *
 * A metric thread without a pitch is taken as coarse, as ISO 965-1 has it, and `assumed` says so. The second figure of "M10×45" is
 * a length when it is more than a third of the diameter: no standard pitch is (the steepest, M1×0.25, is a quarter).
 * A thread in none of the tables is a fault that names the nearest; a text without a thread likewise. `at` is where the text stands.
 */
export function readThread(text: string, at = "thread"): ThreadReading | { readonly fault: Fault } {
  const m = METRIC_FORM.exec(text);
  if (m !== null) return readMetric(text, at, Number(m[1]), m[2], m[3]);
  const un = UNIFIED_FORM.exec(text);
  if (un !== null) return readUnified(text, at, un[1] as string, Number(un[2]), un[3], un[4]);
  return {
    fault: {
      rule: "no-thread",
      at,
      what: `"${text}" names no thread`,
      mend: "Write it as M10×1.5, M10 (coarse) or 3/8-16 UNC.",
      values: { text },
    },
  };
}

/**
 * The thread in the name of an item ("wheel bolt M14×1.5×35"), or undefined. Inch threads only where a fraction, a #
 * or the series shows that a thread is meant: a hose clamp 16-27 is none.
 */
export function findThread(item: string): Thread | undefined {
  if (!METRIC_FORM.test(item)) {
    const un = UNIFIED_FORM.exec(item);
    if (un === null || !(/[/#]/.test(un[1] as string) || un[3] !== undefined)) return undefined;
  }
  const reading = readThread(item);
  return "thread" in reading ? reading.thread : undefined;
}

function readMetric(text: string, at: string, size: number, second?: string, third?: string) {
  const row = METRIC.find(([one]) => one === size);
  const two = second === undefined ? undefined : Number(second);
  // Two figures behind the size are pitch and length; one is a pitch only where it could be one.
  const pitch = two !== undefined && (third !== undefined || two <= size / 3) ? two : undefined;
  const long = third !== undefined ? Number(third) : pitch === undefined ? two : undefined;
  const thread = row === undefined ? undefined : byName.get(`M${figure(size)}×${figure(pitch ?? row[1])}`);
  if (thread === undefined) {
    const near = nearestMetric(size, pitch);
    return {
      fault: {
        rule: "unknown-thread" as const,
        at,
        what:
          row === undefined
            ? `there is no standard thread of ${figure(size)} mm`
            : `there is no standard thread M${figure(size)}×${figure(pitch as number)}`,
        mend:
          row === undefined
            ? `Nearest: ${near.name}.`
            : `Nearest: ${near.name}. M${figure(size)} is made with pitch ${row.slice(1).map(figure).join(", ")} mm; a length goes behind the pitch.`,
        values: { text, nearest: near.name },
      },
    };
  }
  return {
    thread,
    ...(long === undefined ? {} : { length: metres(long * MM) }),
    ...(pitch === undefined ? { assumed: `${thread.name}: coarse pitch, as none is written` } : {}),
  };
}

function nearestMetric(size: number, pitch?: number): Thread {
  const off = (thread: Thread): number =>
    Math.abs(thread.diameter / MM - size) * 10 +
    (pitch === undefined ? (thread.series === "M" ? 0 : 1) : Math.abs(thread.pitch / MM - pitch));
  return nearest(
    THREADS.filter((one) => !isInch(one)),
    off,
  );
}

function readUnified(text: string, at: string, size: string, perInch: number, series?: string, long?: string) {
  const numbered = /^(?:#|No\.? ?)?(\d+)$/i.exec(size);
  // "10-24" is number 10; "1-8" is one inch: numbers stop below where whole inches begin, but for 1, told apart by its threads.
  const gauge = numbered === null ? undefined : NUMBERED.get(Number(numbered[1]));
  const whole = inches(size);
  const found = THREADS.find(
    (thread) =>
      isInch(thread) &&
      Math.abs(INCH / thread.pitch - perInch) < 1e-6 &&
      [gauge, whole].some((d) => d !== undefined && Math.abs(thread.diameter / INCH - d) < 1e-6) &&
      (series === undefined || thread.series.endsWith(series.toUpperCase().slice(-2))),
  );
  if (found === undefined) {
    const aim = gauge ?? whole;
    const near = nearest(
      THREADS.filter(isInch),
      (thread) => Math.abs(thread.diameter / INCH - aim) * 1000 + Math.abs(INCH / thread.pitch - perInch),
    );
    const written = `${size}-${figure(perInch)}${series === undefined ? "" : ` ${series.toUpperCase()}`}`;
    return {
      fault: {
        rule: "unknown-thread" as const,
        at,
        what: `${written} is in neither of the series UNC and UNF`,
        mend: `Nearest: ${near.name}.`,
        values: { text, nearest: near.name },
      },
    };
  }
  return { thread: found, ...(long === undefined ? {} : { length: metres(inches(long) * INCH) }) };
}

const nearest = (threads: readonly Thread[], off: (thread: Thread) => number): Thread =>
  threads.reduce((best, one) => (off(one) < off(best) ? one : best));
