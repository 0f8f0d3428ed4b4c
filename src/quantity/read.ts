// Owns the reading of quantities: "262 kg ± 5 %", "2..3 mm", "1 h 30 min" to base units, or the fault with its mend.

import type { Quantity } from "./quantity.ts";
import { AMBIGUOUS, BASE_UNITS, type Dimension, findUnit, toBase, type Unit, unitsOf } from "./unit.ts";

/** A value with the limits that its tolerance gives, in the base unit. Without a tolerance low = nominal = high. */
export interface Measure<D extends Dimension> {
  readonly nominal: Quantity<D>;
  readonly low: Quantity<D>;
  readonly high: Quantity<D>;
  /** The unit it was written in, for showing it again as the reader knows it. */
  readonly unit: string;
}

/** Why a text is no quantity of the wanted dimension: what is wrong, and what would mend it. */
export interface QuantityFault {
  readonly rule: "no-number" | "no-unit" | "unknown-unit" | "wrong-dimension" | "tolerance";
  readonly text: string;
  readonly what: string;
  readonly mend: string;
}

export type QuantityReading<D extends Dimension> = { readonly value: Measure<D> } | { readonly fault: QuantityFault };

const NUMBER = String.raw`[-+−]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?`;
/** "3/8", "1 1/2" and "1-1/2" as well: the inch is divided so. */
const AMOUNT = String.raw`(?:(?:\d+[ -])?\d+\/\d+|${NUMBER})`;
const TERM = new RegExp(String.raw`^\s*(${AMOUNT})\s*([^\d\s±+\-−.,][^±,]*?)?\s*$`, "u");
/** Where one term ends and the next begins, in "1 h 30 min". */
const SUM = /(?<=[\p{L}²³°])\s+(?=\d)/u;

const wanted = (dimension: Dimension): string => {
  const [base, second] = unitsOf(dimension);
  return second === undefined ? String(base?.name) : `${base?.name} (or ${second.name})`;
};

const article = (dimension: Dimension): string => `${dimension === "angle" ? "an" : "a"} ${dimension}`;

/** What most who leave the unit out mean. */
const usual = (dimension: Dimension): string => (dimension === "angle" ? "°" : BASE_UNITS[dimension]);

const amount = (text: string): number => {
  const fraction = /^(?:(\d+)[ -])?(\d+)\/(\d+)$/.exec(text);
  if (fraction === null) return Number(text.replace("−", "-"));
  return Number(fraction[1] ?? 0) + Number(fraction[2]) / Number(fraction[3]);
};

interface Term {
  readonly value: number;
  readonly unit?: Unit;
  /** The unit as it was written, where there was one. */
  readonly written?: string;
}

const readTerm = (text: string): Term | undefined => {
  const match = TERM.exec(text);
  if (match === null) return undefined;
  const value = amount(match[1] as string);
  if (!Number.isFinite(value)) return undefined;
  const written = match[2];
  if (written === undefined) return { value };
  const unit = findUnit(written);
  return unit === undefined ? { value, written } : { value, written, unit };
};

const closest = (written: string, dimension: Dimension): string | undefined =>
  unitsOf(dimension)
    .flatMap((unit) => [unit.name, ...unit.also])
    .find((name) => name.toLowerCase() === written.toLowerCase());

/** One sum of terms that all carry a unit of the dimension. `unit` is what a term without one takes, if anything. */
const readSum = (text: string, dimension: Dimension, unit?: Unit): { value: number; unit: Unit } | QuantityFault => {
  const fault = (rule: QuantityFault["rule"], what: string, mend: string): QuantityFault => ({
    rule,
    text,
    what,
    mend,
  });
  let total: number | undefined;
  let first: Unit | undefined;
  for (const part of text.split(SUM)) {
    const term = readTerm(part);
    if (term === undefined) {
      const comma = /^\s*[-+−]?\d+,\d+(.*)$/.exec(part);
      return fault(
        "no-number",
        `"${text.trim()}" is no quantity`,
        comma !== null
          ? `Write a point for the decimals: ${part.trim().replace(",", ".")}.`
          : `Write a number and a unit, in ${wanted(dimension)}.`,
      );
    }
    const found = term.unit ?? (term.written === undefined ? unit : undefined);
    if (found === undefined && term.written === undefined)
      return fault(
        "no-unit",
        `"${text.trim()}" has no unit`,
        `Write the unit: ${text.trim()} ${usual(dimension)}${unitsOf(dimension).length > 1 ? `, if ${usual(dimension)} is meant` : ""}.`,
      );
    if (found === undefined) {
      const near = closest(term.written as string, dimension);
      return fault(
        "unknown-unit",
        `"${term.written}" is no unit known here`,
        AMBIGUOUS.get(term.written as string) ??
          (near !== undefined
            ? `Write ${near}.`
            : `Give it in ${unitsOf(dimension)
                .map((one) => one.name)
                .join(", ")}.`),
      );
    }
    if (found.dimension !== dimension)
      return fault(
        "wrong-dimension",
        `"${text.trim()}" is ${article(found.dimension)}, and ${article(dimension)} is wanted`,
        `Give it in ${unitsOf(dimension)
          .map((one) => one.name)
          .join(", ")}.`,
      );
    // A second term of a temperature would add its zero twice: 1 °C 2 °C means nothing.
    if (total !== undefined && found.plus !== 0)
      return fault("no-number", `"${text.trim()}" adds temperatures`, "Write one value.");
    total = (total ?? 0) + toBase(term.value, found);
    first ??= found;
  }
  if (total === undefined || first === undefined)
    return fault("no-number", `"${text.trim()}" is no quantity`, `Write a number and a unit, in ${wanted(dimension)}.`);
  return { value: total, unit: first };
};

const isFault = (result: { value: number; unit: Unit } | QuantityFault): result is QuantityFault => "rule" in result;

/**
 * Reads a quantity of the dimension, with its tolerance.
 *
 * `text` is a number and a unit (`34 N·m`, `25 lbf·ft`, `3/8 in`), a sum of such (`1 h 30 min`), a range (`2..3 mm`),
 * or a value with a tolerance (`262 kg ± 5 %`, `262 kg ± 3 kg`, `262 ± 3 kg`). The answer is in the base unit of the
 * dimension; the nominal value of a range is its middle. Nothing is thrown.
 */
export function readQuantity<D extends Dimension>(text: string, dimension: D): QuantityReading<D> {
  const bad = (what: string, mend: string): QuantityReading<D> => ({ fault: { rule: "tolerance", text, what, mend } });
  const measure = (nominal: number, low: number, high: number, unit: Unit): QuantityReading<D> => ({
    value: { nominal: nominal as Quantity<D>, low: low as Quantity<D>, high: high as Quantity<D>, unit: unit.name },
  });

  const negative = bad(`the tolerance of "${text.trim()}" is below nothing`, "Write it without its sign.");

  const range = text.split("..");
  if (range.length === 2) {
    const high = readSum(range[1] as string, dimension);
    if (isFault(high)) return { fault: { ...high, text } };
    const low = readSum(range[0] as string, dimension, high.unit);
    if (isFault(low)) return { fault: { ...low, text } };
    if (low.value > high.value) return bad(`"${text.trim()}" runs backwards`, "Write the lower limit first.");
    return measure((low.value + high.value) / 2, low.value, high.value, high.unit);
  }

  const [left, right, more] = text.split(/±|\+\/-|\+-/u) as [string, string?, string?];
  if (right === undefined) {
    const sum = readSum(left, dimension);
    return isFault(sum) ? { fault: sum } : measure(sum.value, sum.value, sum.value, sum.unit);
  }
  if (more !== undefined) return bad(`"${text.trim()}" has two tolerances`, "Write one: 262 kg ± 5 %.");

  const percent = /^\s*([-−])?\s*(\d+(?:\.\d+)?)\s*%\s*$/u.exec(right);
  if (percent !== null) {
    if (percent[1] !== undefined) return negative;
    const sum = readSum(left, dimension);
    if (isFault(sum)) return { fault: { ...sum, text } };
    if (dimension === "temperature")
      return bad(`"${text.trim()}" is a share of a temperature`, "Write the tolerance in degrees: 80 °C ± 5 °C.");
    const off = (Math.abs(sum.value) * Number(percent[2])) / 100;
    return measure(sum.value, sum.value - off, sum.value + off, sum.unit);
  }

  // "262 ± 3 kg" and "262 kg ± 3" both say it once for the two.
  const trailing = readTerm(right)?.unit;
  const sum = readSum(left, dimension, trailing);
  if (isFault(sum)) return { fault: { ...sum, text } };
  const off = readSum(right, dimension, sum.unit);
  if (isFault(off)) return { fault: { ...off, text } };
  // A tolerance is a difference: the zero of a temperature scale falls out of it.
  const width = off.value - toBase(0, off.unit);
  if (width < 0) return negative;
  return measure(sum.value, sum.value - width, sum.value + width, sum.unit);
}
