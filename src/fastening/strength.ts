// Owns what a bolt of a class or grade bears: proof, yield and tensile stress, and the reading of its name.

import { type Metres, type Newtons, newtons, type Pascals, pascals } from "../quantity/index.ts";
import type { Fault } from "./fault.ts";
import { isInch, stressArea, type Thread } from "./thread.ts";

/** A class of ISO 898-1, a grade of SAE J429 or a class of stainless ISO 3506-1, at the size of the thread. */
export interface Strength {
  /** "8.8", "grade 5". */
  readonly name: string;
  readonly proof: Pascals;
  /** Rp0.2, or the lower yield point of the softer classes. */
  readonly yield: Pascals;
  readonly tensile: Pascals;
  readonly source: string;
  /** Of stainless steel: it galls, and rubs more than other threads. */
  readonly stainless?: boolean;
}

interface Row {
  readonly name: string;
  /** Diameters for which it holds, over the first and up to the second: mm, or inches for grades. */
  readonly over: number;
  readonly upTo: number;
  /** Proof, yield, tensile: MPa, or ksi for grades. */
  readonly stress: readonly [number, number, number];
}

/** ISO 898-1:2013 table 3, minimum values, as published by a fastener supplier. For 4.8, 5.8 and 6.8 the yield is Rpf. */
const CLASSES: readonly Row[] = [
  { name: "4.6", over: 0, upTo: 39, stress: [225, 240, 400] },
  { name: "4.8", over: 0, upTo: 39, stress: [310, 340, 420] },
  { name: "5.6", over: 0, upTo: 39, stress: [280, 300, 500] },
  { name: "5.8", over: 0, upTo: 39, stress: [380, 420, 520] },
  { name: "6.8", over: 0, upTo: 39, stress: [440, 480, 600] },
  { name: "8.8", over: 0, upTo: 16, stress: [580, 640, 800] },
  { name: "8.8", over: 16, upTo: 39, stress: [600, 660, 830] },
  { name: "9.8", over: 0, upTo: 16, stress: [650, 720, 900] },
  { name: "10.9", over: 0, upTo: 39, stress: [830, 940, 1040] },
  { name: "12.9", over: 0, upTo: 39, stress: [970, 1100, 1220] },
];

/** SAE J429: three published texts agree on grades 5 and 8 and on grade 2 up to 3/4 in; the larger grade 2 is from memory. */
const GRADES: readonly Row[] = [
  { name: "2", over: 0, upTo: 0.75, stress: [55, 57, 74] },
  { name: "2", over: 0.75, upTo: 1.5, stress: [33, 36, 60] },
  { name: "5", over: 0, upTo: 1, stress: [85, 92, 120] },
  { name: "5", over: 1, upTo: 1.5, stress: [74, 81, 105] },
  { name: "8", over: 0, upTo: 1.5, stress: [120, 130, 150] },
];

/**
 * ISO 3506-1, least stress at 0.2 % and tensile strength. The standard has no proof load for bolts: its 0.2 % stress stands for it. The three of the
 * austenitic classes are held against a published table of torques; martensitic, ferritic and 100 are from memory, and so are the sizes.
 */
const STAINLESS: readonly (readonly [steels: RegExp, over: string, upTo: number, yields: number, tensile: number])[] = [
  [/^A[1-5]L?$/, "50", 39, 210, 500],
  [/^A[1-5]L?$/, "70", 24, 450, 700],
  [/^A[1-5]L?$/, "80", 24, 600, 800],
  [/^A8$/, "70", 24, 450, 700],
  [/^A8$/, "80", 24, 600, 800],
  [/^A8$/, "100", 24, 800, 1000],
  [/^C[14]$/, "50", 39, 250, 500],
  [/^C[14]$/, "70", 39, 410, 700],
  [/^C1$/, "110", 39, 820, 1100],
  [/^C3$/, "80", 39, 640, 800],
  [/^F1$/, "45", 24, 250, 450],
  [/^F1$/, "60", 24, 410, 600],
];
const STAINLESS_FORM = /^([ACFD]\d)(L?)(?:[- ]?(\d{2,3}))?$/i;

const MPA = 1e6;
/** 1000 psi, exact to the last digit a number holds (NIST SP 811). */
const KSI = 6894757.293168361;
const INCH: Metres = 0.0254 as Metres;

/** Proof load of one fastener. */
export const proofLoad = (thread: Thread, strength: Strength): Newtons => newtons(stressArea(thread) * strength.proof);

/** Load at the yield point in pure tension. */
export const yieldLoad = (thread: Thread, strength: Strength): Newtons => newtons(stressArea(thread) * strength.yield);

/**
 * Reads a class ("8.8", "class 10.9") for a metric thread, a grade ("grade 5", "SAE 8", "5") for an inch thread. A class of nuts
 * ("8", "10": ISO 898-2) on a metric thread stands for the bolt that it is made to pair with. What is unknown, or not made
 * at that size, is a fault that names what there is.
 */
export function readStrength(
  text: string,
  thread: Thread,
  at = "class",
): { readonly strength: Strength; readonly assumed?: string } | { readonly fault: Fault } {
  const inch = isInch(thread);
  const steel = STAINLESS_FORM.exec(text.trim().replace(/^(property )?class /i, ""));
  if (steel !== null) return readStainless(text, thread, at, `${steel[1]}${steel[2]}`.toUpperCase(), steel[3]);
  const written = text
    .trim()
    .replace(/^(property )?class |^(sae )?(j429 )?(grade|gr\.?) ?|^sae /i, "")
    .trim();
  const rows = inch ? GRADES : CLASSES;
  const size = inch ? thread.diameter / INCH : thread.diameter * 1000;
  // Who writes "grade 8" means the bolt of an inch thread, and no nut of class 8.
  const graded = /grade|\bgr\.?\s?\d|sae|j429/i.test(text);
  const nut = inch || graded ? undefined : NUT_PAIRS.get(written);
  const named = rows.filter(({ name }) => name === (nut ?? written));
  const row = named.find(({ over, upTo }) => size > over + 1e-9 && size <= upTo + 1e-9);
  if (row !== undefined) {
    const [proof, yields, tensile] = row.stress;
    const unit = inch ? KSI : MPA;
    return {
      strength: {
        name: inch ? `grade ${row.name}` : row.name,
        proof: pascals(proof * unit),
        yield: pascals(yields * unit),
        tensile: pascals(tensile * unit),
        source: inch ? "SAE J429" : "ISO 898-1:2013, table 3",
      },
      ...(nut === undefined ? {} : { assumed: `nut of class ${written}: reckoned with the bolt ${nut} it pairs with` }),
    };
  }
  const kind = inch ? "grade of SAE J429" : "class of ISO 898-1";
  const there = [...new Set(rows.filter(({ upTo, over }) => size > over && size <= upTo).map(({ name }) => name))];
  const foreign =
    (inch ? CLASSES : GRADES).some(({ name }) => name === written) && row === undefined && named.length === 0;
  return {
    fault: {
      rule: foreign ? "class-of-other-thread" : "unknown-class",
      at,
      what: foreign
        ? `${text.trim()} is ${inch ? "a class of metric bolts" : "a grade of inch bolts"}, and ${thread.name} is ${inch ? "an inch" : "a metric"} thread`
        : named.length > 0
          ? `${text.trim()} is not given for ${thread.name}`
          : `"${text.trim()}" is no ${kind} known here`,
      mend:
        there.length > 0 ? `For ${thread.name} give one of ${there.join(", ")}.` : "Give a torque by the maker's book.",
      values: { text: text.trim(), thread: thread.name },
    },
  };
}

function readStainless(
  text: string,
  thread: Thread,
  at: string,
  steel: string,
  strength: string | undefined,
): { readonly strength: Strength; readonly assumed?: string } | { readonly fault: Fault } {
  const size = thread.diameter * 1000;
  const made = STAINLESS.filter(([steels]) => steels.test(steel));
  const row = made.find(([, name, upTo]) => name === strength && size <= upTo + 1e-9);
  if (row !== undefined && !isInch(thread)) {
    const [, name, , yields, tensile] = row;
    return {
      strength: {
        name: `${steel}-${name}`,
        proof: pascals(yields * MPA),
        yield: pascals(yields * MPA),
        tensile: pascals(tensile * MPA),
        source: "ISO 3506-1",
        stainless: true,
      },
      assumed: `${steel}-${name}: ISO 3506-1 states no proof load, so its stress at 0.2 % stands for it`,
    };
  }
  const there = made.filter(([, , upTo]) => size <= upTo + 1e-9).map(([, name]) => `${steel}-${name}`);
  const foreign = isInch(thread);
  return {
    fault: {
      rule: foreign ? "class-of-other-thread" : "unknown-class",
      at,
      what: foreign
        ? `${text.trim()} is a class of metric bolts, and ${thread.name} is an inch thread`
        : strength === undefined
          ? `${text.trim()} names the steel and not how strong it is`
          : `${text.trim()} is no class of ISO 3506-1 known here for ${thread.name}`,
      mend:
        foreign || there.length === 0
          ? "Give a torque by the maker's book."
          : `For ${thread.name} give one of ${there.join(", ")}, as it is marked on the head.`,
      values: { text: text.trim(), thread: thread.name },
    },
  };
}

/** ISO 898-2: a nut of this class holds the bolt to its full strength. From memory. */
const NUT_PAIRS: ReadonlyMap<string, string> = new Map([
  ["4", "4.6"],
  ["5", "5.8"],
  ["6", "6.8"],
  ["8", "8.8"],
  ["9", "9.8"],
  ["10", "10.9"],
  ["12", "12.9"],
]);
