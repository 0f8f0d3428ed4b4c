// Owns the work cards: for each position, and with a schedule for each person, the steps that are done there, in the order of their numbers.

import type { CrewPlan, Plan, PlanStep, Visit } from "../plan/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import type { Figures } from "./figures.ts";
import { positionPicture } from "./position-picture.ts";
import type { Block, Sheet, StepBlock, Warned } from "./sheet.ts";
import { saidCode, type Tagging } from "./tag-faces.ts";
import type { Words } from "./words.ts";

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

const PHASES = ["out", "work", "back"] as const;
type Phase = (typeof PHASES)[number];

/** Actions on a connection: its tag is looked at, and its place drawn. */
const ON_CONNECTION: readonly PlanStep["action"][] = ["release", "loosen", "refit", "tighten"];

/** What a step of the plan is called in a schedule: phase, action and id; the same step twice in the order of both. */
const keyOf = (phase: Phase, action: string, id: string): string => `${phase} ${action} ${id}`;

interface Told {
  readonly start: number;
  readonly people: readonly string[];
}

/** When each step of the plan is to be done by the schedule, and by whom. */
function scheduled({ crew }: CardsAsked): (phase: Phase, step: PlanStep) => Told | undefined {
  const told = new Map<string, Told[]>();
  for (const { id, phase, action, start, people } of crew?.steps ?? []) {
    if (action === "wait") continue;
    const key = keyOf(phase, action, plainId(id));
    told.set(key, [...(told.get(key) ?? []), { start, people }]);
  }
  // States of the vehicle are changes, not steps: how often they are turned is the schedule's own.
  for (const { state, to, start, people } of crew?.changes ?? []) {
    for (const phase of PHASES) {
      const key = keyOf(phase, to ? "do" : "undo", state);
      told.set(key, [...(told.get(key) ?? []), { start, people }]);
    }
  }
  return (phase, step) => told.get(keyOf(phase, step.action, step.id))?.shift();
}

/** The id of the thing in the id of a schedule's step: "back:coolant-return", "job/1". */
const plainId = (id: string): string => id.replace(/^(?:back:|look:)+/, "");

function stepBlock(asked: CardsAsked, step: PlanStep, said: Set<string>, told?: Told): StepBlock {
  const { words, figures, plan, crew, tagging } = asked;
  const { cards } = words;
  const label = (id: string): string => plan.labels[id] ?? id;
  const back = step.action === "refit" || step.action === "tighten";
  const look = step.action === "verify";
  const listed = (list: PlanStep["hardware"]): string => list.map(({ item, count }) => `${count} × ${item}`).join(", ");
  const guessed = step.assumed.filter((what) => what !== "people" || step.people > 1);
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
  ];
  const cautions = step.cautions.filter(({ id }) => !said.has(id));
  for (const { id } of cautions) said.add(id);
  const names = new Map(crew?.crew.people.map((person) => [person.id, person.label]));
  return {
    kind: "step",
    number: step.number,
    title: look ? cards.lastLook(step.closes ?? step.label) : `${cards.actions[step.action]}${step.label}`,
    meta: look
      ? []
      : [
          ...(told === undefined ? [] : [figures.clock(told.start, crew?.crew.begins)]),
          figures.minutes(step.minutes),
          ...(step.people === 1 ? [] : [cards.people(step.people)]),
          ...(step.skill === undefined ? [] : [step.skill]),
          ...(told === undefined ? [] : [told.people.map((id) => names.get(id) ?? id).join(", ")]),
          ...(step.wait === undefined ? [] : [cards.wait(figures.minutes(step.wait))]),
          ...(guessed.length === 0
            ? []
            : [cards.assumed(guessed.map((what) => cards.assumedWords[what] ?? what).join(cards.and))]),
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
  const style = pattern === undefined ? "" : `, ${pattern}`;
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
  const { cards } = words;
  const places = new Map(vehicle.connections.map(({ id, at }) => [id, at]));
  const when = scheduled(asked);
  const told = new Map<PlanStep, Told>();
  for (const phase of PHASES)
    for (const visit of plan[phase])
      for (const step of visit.steps) {
        const found = when(phase, step);
        if (found !== undefined) told.set(step, found);
      }
  if (crew !== undefined && person !== undefined) return peopleSheets(asked, crew, told);
  const sheets = PHASES.flatMap((phase) =>
    [...byPosition(plan[phase])].map(([id, visits]): Sheet => {
      const steps = visits.flatMap((visit) => visit.steps);
      const label = id === "" ? cards.anywhere : (visits[0]?.label ?? id);
      const drawn = steps.flatMap((step) => {
        const at = ON_CONNECTION.includes(step.action) ? places.get(step.id) : undefined;
        return at === undefined ? [] : [{ number: step.number, at }];
      });
      const noPlace = steps.filter((step) => ON_CONNECTION.includes(step.action) && places.get(step.id) === undefined);
      const picture = positionPicture(vehicle, label, vehicle.positions.find((one) => one.id === id)?.at, drawn, words);
      const said = new Set<string>();
      return {
        kind: "cards",
        title: `${cards.phases[phase]}: ${label}`,
        blocks: [
          ...(picture === undefined ? [] : [picture]),
          ...(picture === undefined || noPlace.length === 0
            ? []
            : [
                {
                  kind: "text",
                  small: true,
                  text: cards.noPlace(spansOf(noPlace.map(({ number }) => number))),
                } as const,
              ]),
          ...(visits.length < 2 ? [] : [{ kind: "text", small: true, text: cards.alsoAt } as const]),
          ...visits.flatMap((visit): readonly Block[] => [
            {
              kind: "heading",
              level: 3,
              text: cards.visit(visit.steps.length > 1, spanOf(visit.steps), figures.minutes(visit.minutes)),
              ...(visit.tools.length === 0 ? {} : { aside: `${cards.bring}: ${visit.tools.join(", ")}` }),
            },
            ...visit.steps.map((step) => stepBlock(asked, step, said, told.get(step))),
          ]),
        ],
      };
    }),
  );
  return crew === undefined ? sheets : [...sheets, ...peopleSheets(asked, crew, told)];
}

/** A page for each person: when, where, which step; the step itself is on the position's card. */
function peopleSheets(
  { plan, person: only, words, figures }: CardsAsked,
  crew: CrewPlan,
  told: ReadonlyMap<PlanStep, Told>,
): readonly Sheet[] {
  const numbers = new Map<string, number[]>();
  for (const phase of PHASES)
    for (const step of plan[phase].flatMap((visit) => visit.steps)) {
      const key = keyOf(phase, step.action, step.id);
      numbers.set(key, [...(numbers.get(key) ?? []), step.number]);
    }
  const positions = new Map(crew.positions.map(({ id, label }) => [id, label]));
  const wanted = crew.crew.people.filter(({ id }) => only === undefined || id === only);
  return wanted.map(({ id: person, label, skills }): Sheet => {
    const steps = crew.steps
      .filter(({ people, action }) => people.includes(person) && action !== "wait")
      .map((step) => ({
        start: step.start,
        free: step.free,
        number: numbers.get(keyOf(step.phase, step.action, plainId(step.id)))?.join(", ") ?? "",
        label: step.label,
        position: step.position,
        others: step.people.filter((one) => one !== person),
      }));
    const changes = crew.changes
      .filter(({ people }) => people.includes(person))
      .map((change) => ({
        start: change.start,
        free: change.end,
        number: [...told]
          .flatMap(([step, one]) => (step.id === change.state && one.start === change.start ? [step.number] : []))
          .join(", "),
        label: change.label,
        position: change.position,
        others: change.people.filter((one) => one !== person),
      }));
    const names = new Map(crew.crew.people.map((one) => [one.id, one.label]));
    return {
      kind: "cards",
      title: label,
      blocks: [
        ...(skills.length === 0 ? [] : [{ kind: "text", small: true, text: skills.join(", ") } as const]),
        {
          kind: "table",
          columns: [
            { title: words.run.when, width: { mm: 15 }, right: true },
            { title: "min", width: { mm: 11 }, right: true },
            { title: words.chart.step, width: { mm: 15 }, right: true },
            { title: words.run.what, width: { share: 3 } },
            { title: words.run.place, width: { share: 1.4 } },
            { title: words.run.who, width: { share: 1 } },
            { title: words.pack.done, width: { mm: 14 } },
          ],
          rows: [...steps, ...changes]
            .toSorted((a, b) => a.start - b.start || a.free - b.free)
            .map(({ start, free, number, label: what, position, others }) => [
              figures.clock(start, crew.crew.begins),
              figures.number(free - start),
              number,
              what,
              position === undefined ? "" : (positions.get(position) ?? position),
              others.map((one) => `+ ${names.get(one) ?? one}`).join(" "),
              { box: "tick" },
            ]),
        },
      ],
    };
  });
}
