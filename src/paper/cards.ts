// Owns the work cards: for each position the steps that are done there, in the order of their numbers; with a schedule a page for each person behind them.

import { readStyle } from "../fastening/index.ts";
import type { CrewPlan, Plan, PlanStep, Visit } from "../plan/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import type { Figures } from "./figures.ts";
import { peopleSheets } from "./people-cards.ts";
import { type Placed, positionPicture } from "./position-picture.ts";
import type { Words } from "./said.ts";
import { PHASES, scheduled, type Told } from "./schedule.ts";
import type { Block, Sheet, StepBlock, Warned } from "./sheet.ts";
import { stepNames } from "./step-name.ts";
import { saidCode, type Tagging } from "./tag-faces.ts";

export interface CardsAsked {
  readonly vehicle: Vehicle;
  readonly plan: Plan;
  readonly crew?: CrewPlan;
  /** Of the crew: only what this person does. */
  readonly person?: string;
  readonly tagging: Tagging;
  readonly words: Words;
  readonly figures: Figures;
}

/** Actions on a connection: its tag is looked at, and its place drawn. */
const ON_CONNECTION: readonly PlanStep["action"][] = ["release", "loosen", "refit", "tighten"];

/** What the card says is assumed: that one person does it needs no saying. */
export const guessedOf = ({ assumed, people }: PlanStep): readonly string[] =>
  assumed.filter((what) => what !== "people" || people > 1);

interface CardStep {
  readonly step: PlanStep;
  readonly name: string;
  /** Cautions that stand on this visit's part of the card already. */
  readonly said: Set<string>;
  readonly told?: Told | undefined;
}

function stepBlock(asked: CardsAsked, { step, name, said, told }: CardStep): StepBlock {
  const { words, figures, plan, crew, tagging } = asked;
  const { cards } = words;
  const label = (id: string): string => plan.labels[id] ?? id;
  const back = step.action === "refit" || step.action === "tighten";
  const look = step.action === "verify";
  const listed = (list: PlanStep["hardware"]): string => list.map(({ item, count }) => `${count} × ${item}`).join(", ");
  const guessed = guessedOf(step);
  const facts: readonly (readonly [string, string | undefined])[] = [
    [cards.names.fetch, step.fetch.map(label).join(", ")],
    [cards.names.tools, step.tools.join(", ")],
    [back ? cards.names.toMark : cards.names.mark, step.mark],
    [cards.names.protect, step.protect],
    [cards.names.catch, step.catch],
    [cards.names.takeOut, listed(step.takeOut)],
    [cards.names.putIn, listed(step.putIn)],
    [cards.names.count, countOf(step, listed(step.hardware), words)],
    [cards.names.keep, step.keep],
    [cards.names.fresh, step.fresh.join(", ")],
    [cards.names.uses, step.uses?.join(", ")],
    ...tightened(step, words, figures),
    [cards.names.check, step.check],
    [cards.names.setAside, step.setAside.map(label).join(", ")],
    [cards.names.note, step.note],
    [cards.names.assumed, guessed.map((what) => cards.assumedWords[what] ?? what).join(cards.and)],
  ];
  const cautions = step.cautions.filter(({ id }) => !said.has(id));
  for (const { id } of cautions) said.add(id);
  const names = new Map(crew?.crew.people.map((person) => [person.id, person.label]));
  // On one line: a step of few words is no higher than its boxes.
  const clockOf = ({ start }: Told): string => figures.clock(start, crew?.crew.begins);
  const whenOf = (at: Told | undefined): string =>
    [...(at === undefined ? [] : [clockOf(at)]), figures.minutes(step.minutes)].join(", ");
  const whoOf = (at: Told | undefined): readonly string[] =>
    at === undefined ? [] : [at.people.map((id) => names.get(id) ?? id).join(", ")];
  return {
    kind: "step",
    number: step.number,
    title: look ? cards.lastLook(step.closes ?? step.label) : name,
    meta: look
      ? [...(told === undefined ? [] : [clockOf(told)]), ...whoOf(told)]
      : [
          whenOf(told),
          ...(step.people === 1 ? [] : [cards.people(step.people)]),
          ...(step.skill === undefined ? [] : [step.skill]),
          ...whoOf(told),
          ...(step.wait === undefined ? [] : [cards.wait(figures.minutes(step.wait))]),
        ],
    cautions: cautions.map((one) => warned(one, words)),
    facts: facts.flatMap(([name, text]) => (text === undefined || text === "" ? [] : [{ name, text }])),
    looks: (step.verify ?? []).map((one) => (one.hidden ? `${one.label} (${cards.hidden})` : one.label)),
    ...(ON_CONNECTION.includes(step.action) ? { code: saidCode(tagging, step.id) } : {}),
    second: ON_CONNECTION.includes(step.action) || look,
  };
}

const warned = ({ id, word, text }: PlanStep["cautions"][number], { pack, cautions }: Words): Warned => ({
  word: pack.signals[word],
  text: cautions[id] ?? text,
});

function countOf({ hardware, action, scrap = 0 }: PlanStep, listed: string, { cards }: Words): string | undefined {
  if (hardware.length === 0) return undefined;
  const again = hardware.reduce((sum, { count }) => sum + count, 0) - scrap;
  const back = action === "refit";
  return [
    listed,
    ...(again === 0 ? [] : [back ? cards.fromBag(again) : cards.intoBag(again)]),
    ...(scrap === 0 ? [] : [back ? cards.fresh(scrap) : cards.toScrap(scrap)]),
  ].join("; ");
}

function tightened(
  { torque, torqueLimits: stated, pattern, tightening }: PlanStep,
  { cards }: Words,
  figures: Figures,
): readonly (readonly [string, string | undefined])[] {
  const newtonMetres = (value: number): string => `${figures.places(value, 3)} N·m`;
  const allowed = stated === undefined ? "" : ` (${figures.limits(stated.low, stated.high)})`;
  const style = pattern === undefined ? "" : `, ${cards.pattern(pattern, readStyle(pattern))}`;
  if (tightening === undefined)
    return torque === undefined ? [] : [[cards.names.torque, `${newtonMetres(torque)}${allowed}${style}`]];
  const { torque: full, fasteners, stages, turn, round, order, proposal } = tightening;
  const given = `${newtonMetres(full)}${allowed}${turn === undefined ? "" : `, ${cards.onTurn(figures.places(turn, 3))}`}${fasteners > 1 ? ` ${cards.each(fasteners)}` : ""}${style}`;
  return [
    [cards.names.torque, proposal ? cards.proposal(given) : given],
    ...(stages.length > 1 || round
      ? [
          [
            cards.names.stages,
            [
              cards.byHand,
              `${stages.map((one) => figures.places(one, 3)).join(" – ")} N·m`,
              ...(round ? [cards.round(newtonMetres(stages.at(-1) ?? full))] : []),
            ].join("; "),
          ] as const,
        ]
      : []),
    ...(order === undefined ? [] : [[cards.names.order, order.join("–")] as const]),
  ];
}

/** Steps of a card that does not need a page of its own. */
const SHORT = 8;

/** The visits of a phase by position, positions in the order in which they are first come to. */
const byPosition = (visits: readonly Visit[]): ReadonlyMap<string, readonly Visit[]> => {
  const found = new Map<string, Visit[]>();
  for (const visit of visits) {
    const id = visit.position ?? "";
    const known = found.get(id);
    if (known === undefined) found.set(id, [visit]);
    else known.push(visit);
  }
  return found;
};

const spanOf = (steps: readonly PlanStep[]): string => {
  const [first, last] = [steps[0]?.number ?? 0, steps.at(-1)?.number ?? 0];
  return first === last ? String(first) : `${first}–${last}`;
};

/** Numbers in their order, those that follow one another as one span: 1–4, 7. */
const spansOf = (numbers: readonly number[]): string => {
  const spans: [number, number][] = [];
  for (const number of numbers) {
    const last = spans.at(-1);
    if (last !== undefined && number === last[1] + 1) last[1] = number;
    else spans.push([number, number]);
  }
  return spans.map(([from, to]) => (from === to ? String(from) : `${from}–${to}`)).join(", ");
};

export function cardsSheets(asked: CardsAsked): readonly Sheet[] {
  const { vehicle, plan, crew, person, words, figures } = asked;
  const told = scheduled(plan, crew);
  const nameOf = stepNames(vehicle, words);
  const people = (only?: string): readonly Sheet[] =>
    crew === undefined
      ? []
      : peopleSheets({ plan, crew, ...(only === undefined ? {} : { only }), told, nameOf, words, figures });
  if (crew !== undefined && person !== undefined) return people(person);
  const cards = PHASES.flatMap((phase) => [...byPosition(plan[phase])].map(([id, visits]) => ({ phase, id, visits })));
  return [
    ...cards.map((card, n): Sheet => {
      const joins = joinsOf(card, cards[n - 1]);
      return { ...cardOf(asked, card, { nameOf, told }), ...(joins === undefined ? {} : { joins }) };
    }),
    ...people(),
  ];
}

interface Card {
  readonly phase: (typeof PHASES)[number];
  /** The position's; empty where the step has none. */
  readonly id: string;
  readonly visits: readonly Visit[];
}

const isShort = ({ visits }: Card): boolean => visits.reduce((sum, { steps }) => sum + steps.length, 0) <= SHORT;

/** The first begins a page; a short one goes beneath it, and a long one beneath a short one of its own position. */
const joinsOf = (card: Card, before: Card | undefined): Sheet["joins"] => {
  if (before === undefined) return undefined;
  if (isShort(card)) return "whole";
  return before.id === card.id && isShort(before) ? "flows" : undefined;
};

interface Known {
  readonly nameOf: (step: PlanStep) => string;
  readonly told: ReadonlyMap<PlanStep, Told>;
}

function cardOf(asked: CardsAsked, { phase, id, visits }: Card, { nameOf, told }: Known): Sheet {
  const { vehicle, words, figures } = asked;
  const { cards } = words;
  const small = (text: string): Block => ({ kind: "text", small: true, text });
  const label = id === "" ? cards.anywhere : (visits[0]?.label ?? id);
  const { drawn, noPlace } = placesOf(vehicle, visits);
  const picture = positionPicture(vehicle, label, vehicle.positions.find((one) => one.id === id)?.at, drawn, words);
  return {
    kind: "cards",
    title: `${cards.phases[phase]}: ${label}`,
    blocks: [
      ...(picture === undefined ? [] : [picture]),
      ...(picture === undefined || noPlace.length === 0 ? [] : [small(cards.noPlace(spansOf(noPlace)))]),
      ...(visits.length < 2 ? [] : [small(cards.alsoAt)]),
      ...visits.flatMap((visit): readonly Block[] => {
        const said = new Set<string>();
        return [
          {
            kind: "heading",
            level: 3,
            text: cards.visit(visit.steps.length > 1, spanOf(visit.steps), figures.minutes(visit.minutes)),
            ...(visit.tools.length === 0 ? {} : { aside: `${cards.bring}: ${visit.tools.join(", ")}` }),
          },
          ...visit.steps.map((step) => stepBlock(asked, { step, name: nameOf(step), said, told: told.get(step) })),
        ];
      }),
    ],
  };
}

/** Where the connections of a card are, by the numbers of their steps; and the numbers of those that the file gives no place. */
function placesOf(
  vehicle: Vehicle,
  visits: readonly Visit[],
): { readonly drawn: readonly Placed[]; readonly noPlace: readonly number[] } {
  const places = new Map(vehicle.connections.map(({ id, at }) => [id, at]));
  const steps = visits.flatMap((visit) => visit.steps).filter(({ action }) => ON_CONNECTION.includes(action));
  return {
    drawn: steps.flatMap(({ id, number }) => {
      const at = places.get(id);
      return at === undefined ? [] : [{ number, at }];
    }),
    noPlace: steps.flatMap(({ id, number }) => (places.get(id) === undefined ? [number] : [])),
  };
}
