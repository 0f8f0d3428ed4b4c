// Owns how a change of the design is called and why it was tried, in the language of the page: by its rule and what it is of.

import type { ImprovedChange } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import type { Figures } from "../sheet/figures.ts";
import type { Words } from "../words/said.ts";

/** What a thing of the file is called. */
const labelsOf = ({ connections, tasks, positions }: Vehicle): ReadonlyMap<string, string> =>
  new Map([...connections, ...tasks, ...positions].map(({ id, label }) => [id, label] as const));

export interface ChangeSaid {
  readonly rule: string;
  /** What it is of; nothing where the rule says all. */
  readonly of: string;
  readonly why: string;
}

export const sayChange = (
  change: ImprovedChange,
  vehicle: Vehicle,
  words: Words["improve"],
  figures: Figures,
): ChangeSaid => {
  const { steps, ways, spare, tools, rule, label } = change;
  const labels = labelsOf(vehicle);
  const called = (id: string | undefined) => (id === undefined ? "" : (labels.get(id) ?? id));
  const [step] = steps;
  const [way] = ways;
  const minutes = (value: number | undefined) => figures.minutes(value ?? 0);
  const times = figures.number(step?.times ?? 1, 2);
  const said = (of: string, why: string): ChangeSaid => ({ rule: words.rules[rule], of, why });
  switch (rule) {
    case "quick coupling":
      return said(called(step?.of), words.why.quick(minutes(step?.off), minutes(step?.on)));
    case "captive bolts":
      return said(called(step?.of), words.why.factor(times));
    case "special tool":
      return said(called(step?.of), words.why.tool(times));
    case "access hatch":
      return said(called(way?.of), words.why.hatch(minutes(way?.off), minutes(way?.on)));
    case "breaks at the edge":
      return said(called(way?.of), words.why.edge(called(way?.at), minutes(way?.off), minutes(way?.on)));
    case "one person more":
      return said("", words.why.person);
    case "one tool more":
      return said(tools.join(", "), words.why.tool2);
    case "nothing to drain":
      return said(spare.map(called).join(", "), words.why.drained);
    case "yours":
      return said(label, words.why.yours);
  }
};
