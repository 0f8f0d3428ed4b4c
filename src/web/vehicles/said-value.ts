// Owns how the value of a field is told where two versions are compared: in the units that are preferred, by what the field measures.

import type { Need } from "../../vehicle/index.ts";
import type { Figures } from "../sheet/figures.ts";
import { sayNeed } from "./arranged.ts";
import type { ThingKind } from "./meaning.ts";

type Measured = "mass" | "length" | "short" | "force" | "torque" | "volume" | "minutes" | "degrees";

/** What a field measures, by its key; a key that measures several things has what it measures in each. */
const MEASURES: Readonly<Record<string, Measured | Readonly<Partial<Record<ThingKind, Measured>>>>> = {
  mass: "mass",
  limit: "mass",
  hand: "mass",
  tackle: "mass",
  hook: "mass",
  centre: "length",
  at: "length",
  low: "length",
  high: "length",
  move: "length",
  reach: { task: "length" },
  length: "length",
  slack: "short",
  moves: "short",
  margin: "short",
  grip: "short",
  bore: "short",
  within: { part: "short", leg: "short", connection: "minutes", task: "minutes" },
  time: "minutes",
  wait: "minutes",
  torque: "torque",
  running: "torque",
  stages: "torque",
  preload: "force",
  clamp: "force",
  turn: "degrees",
  pitch: "degrees",
  roll: "degrees",
  amount: "volume",
};

const DEGREES = 180 / Math.PI;

export interface Saying {
  readonly figures: Figures;
  readonly yes: string;
  readonly no: string;
  readonly nothing: string;
  readonly label: (id: string) => string;
}

const figure = (value: number, measured: Measured | undefined, figures: Figures): string => {
  if (measured === undefined) return figures.number(value, 3);
  if (measured === "minutes") return figures.minutes(value);
  if (measured === "degrees") return figures.degrees(value * DEGREES);
  return figures.measure(value, measured);
};

/** A value in words. */
export const sayValue = (value: unknown, path: readonly string[], thing: ThingKind, saying: Saying): string => {
  const { figures } = saying;
  const key = path.findLast((one) => !/^\d+$/.test(one)) ?? "";
  const found = MEASURES[key];
  const measured = typeof found === "object" ? found[thing] : found;
  if (value === undefined) return saying.nothing;
  if (typeof value === "boolean") return value ? saying.yes : saying.no;
  if (typeof value === "number") return figure(value, measured, figures);
  if (typeof value === "string") return value;
  if (Array.isArray(value)) {
    if (value.length === 0) return saying.nothing;
    return value
      .map((one) => (key === "needs" ? sayNeed(one as Need, saying.label) : sayValue(one, path, thing, saying)))
      .join(", ");
  }
  const record = value as Readonly<Record<string, unknown>>;
  if ((key === "mass" || key === "torque") && typeof record.nominal === "number") {
    const [low, nominal, high] = [record.low, record.nominal, record.high] as readonly number[];
    const value = figures.measure(nominal ?? 0, key);
    return low === high ? value : `${value} (${figures.measure(low ?? 0, key)} – ${figures.measure(high ?? 0, key)})`;
  }
  return Object.entries(record)
    .filter(([name, one]) => name !== "id" && one !== undefined && !(Array.isArray(one) && one.length === 0))
    .map(([name, one]) => `${name} ${sayValue(one, [...path, name], thing, saying)}`)
    .join("; ");
};
