// Owns the page of each person of a schedule: when, where, which step; the step itself is on the position's card.

import type { CrewChange, CrewPlan, CrewStep, Plan, PlanStep } from "../plan/index.ts";
import type { Figures } from "./figures.ts";
import type { Words } from "./said.ts";
import { plannedAs, type Told } from "./schedule.ts";
import type { Block, Cell, Column, Sheet } from "./sheet.ts";

export interface PeopleAsked {
  readonly plan: Plan;
  readonly crew: CrewPlan;
  /** Only this person. */
  readonly only?: string;
  readonly told: ReadonlyMap<PlanStep, Told>;
  readonly nameOf: (step: PlanStep) => string;
  readonly words: Words;
  readonly figures: Figures;
}

/** Steps of a person who does not need a page of his own. */
const SHORT = 12;
/** Minutes. */
const DAY = 1440;
/** Of a change that the schedule makes once more than the plan. */
const NO_STEP = "–";

interface Row {
  readonly start: number;
  readonly free: number;
  readonly number: string;
  readonly label: string;
  readonly position?: string | undefined;
  readonly people: readonly string[];
}

export function peopleSheets(asked: PeopleAsked): readonly Sheet[] {
  const { plan, crew, only } = asked;
  const { cards } = asked.words;
  const planned = plannedAs(plan);
  const rows = [
    // Of a run under way what is left.
    ...crew.steps
      .filter(({ action, done }) => action !== "wait" && done !== true)
      .map((step) => stepRow(asked, step, planned(step))),
    ...crew.changes.map((change) => changeRow(asked, change)),
  ].toSorted((a, b) => a.start - b.start || a.free - b.free);
  return crew.crew.people
    .filter(({ id }) => only === undefined || id === only)
    .map(({ id, label, skills }, n) => ({
      kind: "cards",
      ...(n > 0 && rows.filter(({ people }) => people.includes(id)).length <= SHORT ? { joins: "whole" as const } : {}),
      title: cards.person(label),
      blocks: [
        {
          kind: "text",
          small: true,
          text: [...(skills.length === 0 ? [] : [skills.join(", ")]), cards.personHow].join(". "),
        },
        rowsOf(asked, id, rows),
      ],
    }));
}

function rowsOf(asked: PeopleAsked, id: string, all: readonly Row[]): Block {
  const rows = all.filter(({ people }) => people.includes(id));
  if (rows.length === 0) return { kind: "text", text: asked.words.run.nothing };
  // Nobody works with him: the steps' names have that room.
  const alone = rows.every(({ people }) => people.length === 1);
  return { kind: "table", columns: columnsOf(asked, alone), rows: rows.map((row) => cellsOf(asked, id, row, alone)) };
}

function stepRow({ words: { cards }, nameOf }: PeopleAsked, step: CrewStep, found: readonly PlanStep[]): Row {
  const [first] = found;
  return {
    start: step.start,
    free: step.free,
    number: found.map(({ number }) => number).join(", ") || NO_STEP,
    label:
      first === undefined
        ? step.label
        : first.action === "verify"
          ? cards.lookBefore(first.closes ?? first.label)
          : nameOf(first),
    position: step.position,
    people: step.people,
  };
}

const changeRow = ({ told }: PeopleAsked, change: CrewChange): Row => ({
  start: change.start,
  free: change.end,
  number:
    [...told]
      .flatMap(([step, { start }]) => (step.id === change.state && start === change.start ? [step.number] : []))
      .join(", ") || NO_STEP,
  label: change.label,
  position: change.position,
  people: change.people,
});

function columnsOf({ crew, words }: PeopleAsked, alone: boolean): readonly Column[] {
  const { cards, chart, run, pack } = words;
  // From the second day on the day stands before the time.
  const clock = (crew.crew.begins ?? 0) + crew.elapsed < DAY ? 13 : 21;
  return [
    { title: cards.from, width: { mm: clock }, right: true },
    { title: cards.until, width: { mm: clock }, right: true },
    { title: chart.step, width: { mm: 15 }, right: true },
    { title: run.what, width: { share: 3.6 } },
    { title: run.place, width: { share: 1.2 } },
    ...(alone ? [] : [{ title: cards.beside, width: { share: 0.9 } }]),
    { title: pack.done, width: { mm: 14 } },
  ];
}

function cellsOf({ crew, figures }: PeopleAsked, own: string, row: Row, alone: boolean): readonly Cell[] {
  const { people, begins } = crew.crew;
  const nameOf = (id: string): string => people.find((one) => one.id === id)?.label ?? id;
  return [
    figures.clock(row.start, begins),
    figures.clock(row.free, begins),
    row.number,
    row.label,
    crew.positions.find(({ id }) => id === row.position)?.label ?? row.position ?? "",
    ...(alone ? [] : [row.people.flatMap((id) => (id === own ? [] : [nameOf(id)])).join(", ")]),
    { box: "tick" },
  ];
}
