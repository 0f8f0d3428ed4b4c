// Owns the rigging sheet: how each lift of a plan hangs or stands, with tensions, ranges, limits and sources, the trial lift, who stands where, and who approves.

import {
  groupsOf,
  HOOK,
  type LiftHung,
  type LiftOfPlan,
  type LiftStanding,
  nameIn,
  ownId,
  type Plan,
  padOf,
  reckonLiftOf,
  supportAlong,
} from "../plan/index.ts";
import {
  type Check,
  type DrawnView,
  drawViews,
  type Remark,
  sayRefusal,
  sayRemarks,
  type Writing,
} from "../rigging/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { LETTERS } from "./drawing.ts";
import type { Figures } from "./figures.ts";
import type { Words } from "./said.ts";
import type { Block, Cell, FigureBlock, Sheet } from "./sheet.ts";

export interface LiftAsked {
  readonly vehicle: Vehicle;
  readonly plan: Plan;
  readonly hoist?: string;
  readonly words: Words;
  readonly figures: Figures;
}

const GRAVITY = 9.80665;
/** Share of its weight that a load may still press on its feet with and count as free. */
const FREE = 0.005;

export function liftSheet(asked: LiftAsked): Sheet {
  const { vehicle, plan, hoist, words } = asked;
  const groups = groupsOf(vehicle, plan);
  return {
    kind: "lift",
    title: words.lift.title,
    ...(groups.length === 0 ? { empty: true as const } : {}),
    blocks:
      groups.length === 0
        ? [{ kind: "text", text: words.lift.none }]
        : groups.flatMap((group, n) => [
            ...(n === 0 ? [] : [{ kind: "page" } as const]),
            ...liftBlocks(asked, reckonLiftOf(vehicle, group, hoist === undefined ? {} : { hoist })),
            ...(n === groups.length - 1 ? holdingBlocks(asked) : []),
          ]),
  };
}

const newtons = ({ figures }: LiftAsked, value: number): string => `${figures.fixed(value / 1000, 2)} kN`;
const degrees = ({ figures }: LiftAsked, value: number): string => `${figures.fixed(value, 1)}°`;
const writing = (asked: LiftAsked): Writing => ({
  force: (value) => newtons(asked, value),
  angle: (value) => degrees(asked, value),
  length: (value) => metres(asked, value),
  short: (value) => millimetres(asked, value),
  mass: (value) => `${asked.figures.number(value)} kg`,
  number: (value, digits) => asked.figures.number(value, digits),
});
/** Remarks in the language of the page. */
const said = (asked: LiftAsked, ...remarks: readonly Remark[]): string =>
  sayRemarks(asked.words.lift.said, remarks, writing(asked));
const metres = ({ figures }: LiftAsked, value: number): string => `${figures.fixed(value, 3)} m`;
const millimetres = ({ figures }: LiftAsked, value: number): string => `${figures.number(1000 * value, 0)} mm`;

function liftBlocks(asked: LiftAsked, lift: LiftOfPlan): readonly Block[] {
  const { plan, words } = asked;
  const { task } = lift.group;
  const head: Block = { kind: "heading", level: 2, text: plan.labels[task] ?? task };
  const aid: Block = { kind: "text", small: true, text: words.lift.aid };
  if (lift.kind === "refused")
    return [
      head,
      aid,
      {
        kind: "text",
        text: [
          words.lift.refused,
          ...lift.faults.map((fault) => {
            const { what, mend } = sayRefusal(words.lift.refusing, fault, writing(asked));
            return `${fault.at === task ? "" : `${words.lift.thing(labelOf(asked, ownId(fault.at)))}: `}${what}. ${mend}`;
          }),
          words.lift.refusedMend,
        ].join(" "),
      },
      ...placeBlocks(asked, task, "hangs"),
    ];
  return [
    head,
    aid,
    ...(lift.kind === "stands" ? standing(asked, lift) : hanging(asked, lift)),
    ...(lift.kind === "stands"
      ? checkBlocks(asked, lift.checks, 1)
      : checkBlocks(asked, lift.answer.checks, lift.slung.rules.dynamic.factor, lift.answer.ranges.kind === "ranges")),
    ...clearance(asked, lift.kind === "stands" ? lift.clearing : lift.answer.clearing),
    ...(lift.assumed.length === 0
      ? []
      : [
          { kind: "heading", level: 3, text: words.lift.assumedTitle } as const,
          { kind: "text", small: true, text: `${lift.assumed.map((one) => said(asked, one)).join(". ")}.` } as const,
        ]),
    ...(lift.kind === "stands" || lift.answer.hanging.kind === "tips" ? [] : trialBlocks(asked, lift)),
    ...placeBlocks(asked, task, lift.kind === "stands" ? "stands" : "hangs"),
  ];
}

const loadRows = (
  asked: LiftAsked,
  mass: { readonly nominal: number; readonly low: number; readonly high: number },
  centre: readonly number[],
  within: readonly number[],
): readonly (readonly Cell[])[] => {
  const { words, figures } = asked;
  return [
    [
      { strong: words.lift.load },
      words.lift.mass(figures.number(mass.nominal), figures.number(mass.low), figures.number(mass.high)),
    ],
    [
      { strong: words.lift.centre },
      centre
        .map((one, i) => `${figures.fixed(one, 3)} ± ${figures.fixed(within[i] ?? 0, 3)}`)
        .join("; ")
        .concat(" m"),
    ],
  ];
};

const facts = (rows: readonly (readonly Cell[])[]): Block => ({
  kind: "table",
  columns: [
    { title: "", width: { mm: 42 } },
    { title: "", width: { share: 1 } },
  ],
  rows,
});

function partRow({ plan, words, figures }: LiftAsked, task: string, title: string): readonly Cell[] {
  const parts = plan.lifts.find((one) => one.task === task)?.parts ?? [];
  return [
    { strong: title },
    parts
      .map(({ label, mass }) => `${label} (${mass === null ? words.lift.noMass : `${figures.number(mass)} kg`})`)
      .join(", "),
  ];
}

/** The hoist, where it stands, and what else hangs on its hook. */
function hoistRow(asked: LiftAsked, { rules: { hoist } }: LiftHung["slung"]): readonly (readonly Cell[])[] {
  const { words, figures } = asked;
  if (hoist === undefined) return [];
  const { id, reach, tackle } = hoist;
  return [
    [
      { strong: words.lift.hoist },
      [
        labelOf(asked, id),
        ...(reach === undefined ? [] : [words.lift.reach(`${figures.fixed(reach, 2)} m`)]),
        ...(tackle === undefined ? [] : [words.lift.tackle(`${figures.number(tackle)} kg`)]),
      ].join(", "),
    ],
  ];
}

function standing(asked: LiftAsked, { group, centre, stand }: LiftStanding): readonly Block[] {
  const { words } = asked;
  return [
    facts([
      ...loadRows(asked, centre.mass, centre.centre, centre.within),
      partRow(asked, group.task, words.lift.standing),
    ]),
    {
      kind: "text",
      text: `${words.lift.stands} ${stand.margin === undefined || !Number.isFinite(stand.margin) ? "" : words.lift.inside(metres(asked, stand.margin))}`.trim(),
    },
  ];
}

/** Millimetres: the row of the views, what lies between two of them, the most that they are high. */
const VIEWS = { wide: 178, apart: 5, high: 72 };
/** And one unit of their drawing, at the most. */
const UNIT = 0.3;

/** The views in one row, each as wide as what is on it, all to one scale. */
function inOneRow(views: readonly DrawnView[], words: Words, figures: Figures): readonly FigureBlock[] {
  const most = Math.max(...views.map(({ high }) => high));
  const scale = Math.min(
    UNIT,
    VIEWS.high / most,
    (VIEWS.wide - VIEWS.apart * (views.length - 1)) / views.reduce((sum, { wide }) => sum + wide, 0),
  );
  return views.map(({ svg, left, top, wide, high }, n) => ({
    kind: "figure",
    svg: svg
      .replace(/viewBox="[^"]*"/, `viewBox="${left} ${top} ${wide} ${high}"`)
      .replaceAll(/font-family="[^"]*"/g, `font-family="${LETTERS}"`)
      .replaceAll(/>([\d.]+) m</g, (_, length: string) => `>${figures.number(Number(length), 2)} m<`),
    alt: words.lift.views[n] ?? "",
    caption: words.lift.views[n] ?? "",
    wide: wide * scale,
  }));
}

function hanging(asked: LiftAsked, { group, slung, answer, asked: question }: LiftHung): readonly Block[] {
  const { words, figures } = asked;
  const { rig } = slung;
  const { hanging: found, ranges } = answer;
  const views = drawViews(rig, found, {
    obstacles: question.obstacles,
    ...(ranges.kind === "ranges" ? { ranges } : {}),
  });
  return [
    facts([
      ...loadRows(asked, rig.load.mass, rig.load.centre, rig.load.within),
      partRow(asked, group.task, words.lift.parts),
      ...hoistRow(asked, slung),
    ]),
    found.kind === "tips"
      ? { kind: "heading", level: 3, text: words.lift.tips }
      : {
          kind: "text",
          text: `${words.lift.hangs(degrees(asked, found.pitch), degrees(asked, found.roll))} ${words.lift.margin(metres(asked, found.stability.margin))}`,
        },
    ...(found.kind === "tips" ? [{ kind: "text", text: words.lift.drawnTipping } as const] : []),
    { kind: "figures", figures: inOneRow(views, words, figures) },
    { kind: "heading", level: 3, text: words.lift.legs },
    {
      kind: "table",
      columns: [
        { title: words.lift.leg, width: { share: 1 } },
        { title: words.lift.leads, width: { share: 1.2 } },
        { title: words.lift.gear, width: { share: 1.5 } },
        { title: words.lift.tension, width: { mm: 16 }, right: true },
        { title: words.lift.range, width: { mm: 34 }, right: true },
        { title: words.lift.angle, width: { mm: 26 }, right: true },
        { title: words.lift.length, width: { mm: 16 }, right: true },
      ],
      rows: found.legs.map((leg, i) => {
        const range = ranges.kind === "ranges" ? ranges.legs[i]?.tension : undefined;
        return [
          { strong: `${i + 1} ${leg.id}` },
          `${rig.legs[i]?.lower} – ${rig.legs[i]?.upper === HOOK ? words.lift.hook : rig.legs[i]?.upper}`,
          gearOf(asked, leg.id),
          leg.tension > 0 ? newtons(asked, leg.tension) : words.lift.slack,
          range === undefined
            ? ""
            : `${figures.fixed(range.low.bound / 1000, 2)} ${words.lift.to} ${newtons(asked, range.high.bound)}`,
          degrees(asked, leg.angle),
          metres(asked, leg.length),
        ];
      }),
    },
    ...(ranges.kind === "ranges"
      ? []
      : [{ kind: "text", small: true, text: words.lift.noRanges(said(asked, ranges.why)) } as const]),
  ];
}

/** What a leg is made of, as far as the file says. */
function gearOf({ vehicle, words, figures }: LiftAsked, id: string): string {
  const { kind, size, grade, colour, shackle } = vehicle.legs?.find((leg) => leg.id === id) ?? {};
  if (kind === undefined) return "";
  return [
    `${words.lift.thing(kind)}${size === undefined ? "" : ` ${figures.number(1000 * size)} mm`}`,
    ...(grade === undefined ? [] : [words.lift.grade(grade)]),
    ...(colour === undefined ? [] : [colour]),
    ...(shackle === undefined ? [] : [words.lift.thing("shackle")]),
  ].join(", ");
}

/** What holds something meanwhile, over the whole plan. */
function holdingBlocks(asked: LiftAsked): readonly Block[] {
  const { vehicle, plan, words, figures } = asked;
  const { checks } = supportAlong(vehicle, plan);
  if (checks.length === 0) return [];
  const { holding, holdingHow, afterStep } = words.lift;
  return [
    { kind: "heading", level: 3, text: holding },
    { kind: "text", small: true, text: holdingHow },
    checkTable(
      asked,
      checks.map(({ check }) => check),
      ({ at }, i) => `${padName(asked, at)}, ${afterStep(figures.number(checks[i]!.step, 0))}`,
    ),
  ];
}

const labelOf = ({ vehicle }: LiftAsked, id: string): string => nameIn(vehicle, id);

/** Of a jack or a table with several pads which of them. */
function padName(asked: LiftAsked, bearing: string): string {
  const pad = padOf(bearing);
  return pad === bearing
    ? labelOf(asked, bearing)
    : `${labelOf(asked, bearing.slice(0, -` pad ${pad}`.length))}, ${asked.words.lift.checkNames.pad} ${pad}`;
}

/** What a check is about, where there is more than one such thing. */
function aboutOf(asked: LiftAsked, { check, at }: Check): string {
  if (check === "hook" && at === HOOK) return "";
  if (check === "tipping") return "";
  return ` ${asked.words.lift.thing(check === "pad" ? padOf(at) : labelOf(asked, at))}`;
}

const checkBlocks = (
  asked: LiftAsked,
  checks: readonly Check[],
  factor: number,
  isOverRange = true,
): readonly Block[] => [
  { kind: "heading", level: 3, text: asked.words.lift.checks },
  { kind: "text", small: true, text: asked.words.lift.worst(asked.figures.number(factor, 3), isOverRange) },
  checkTable(asked, checks, (check) => checkName(asked, check)),
  ...checks
    .filter(({ verdict }) => verdict !== "passes")
    .map((check): Block => {
      const { figures, mend } = check;
      return {
        kind: "text",
        small: true,
        text: `${checkName(asked, check)}: ${said(asked, ...figures)}.${mend === undefined ? "" : ` ${said(asked, mend)}`}`,
      };
    }),
];

const checkName = (asked: LiftAsked, check: Check): string =>
  `${asked.words.lift.checkNames[check.check]}${aboutOf(asked, check)}${check.gear === undefined ? "" : `, ${asked.words.lift.thing(check.gear)}`}`;

/** What is left of a limit: a share of it, and of an angle the degrees. */
function leftOf(asked: LiftAsked, { unit, value, limit, margin }: Check): string {
  if (margin === undefined || !Number.isFinite(margin)) return "";
  return unit === "°" && limit !== undefined
    ? degrees(asked, Math.sign(margin) * Math.abs(value - limit))
    : `${asked.figures.number(100 * margin, 0)} %`;
}

function checkTable(asked: LiftAsked, checks: readonly Check[], name: (check: Check, i: number) => string): Block {
  const { words } = asked;
  const say = ({ unit }: Check, value: number | undefined): string =>
    value === undefined || !Number.isFinite(value)
      ? "–"
      : unit === "N"
        ? newtons(asked, value)
        : unit === "m"
          ? metres(asked, value)
          : degrees(asked, value);
  return {
    kind: "table",
    columns: [
      { title: words.lift.check, width: { share: 1.25 } },
      { title: words.lift.value, width: { mm: 18 }, right: true },
      { title: words.lift.limit, width: { mm: 17 }, right: true },
      { title: words.lift.left, width: { mm: 13 }, right: true },
      { title: words.lift.verdict, width: { mm: 27 } },
      { title: words.lift.source, width: { share: 1.8 } },
    ],
    rows: checks.map((check, i) => [
      name(check, i),
      say(check, check.value),
      say(check, check.limit),
      leftOf(asked, check),
      check.verdict === "passes" ? words.lift.verdicts.passes : { strong: words.lift.verdicts[check.verdict] },
      `${words.lift.sourceIs(check.source)}${check.assumed ? ` (${words.lift.assumed})` : ""}`,
    ]),
  };
}

function clearance(asked: LiftAsked, { least, contact }: LiftHung["answer"]["clearing"]): readonly Block[] {
  const { words } = asked;
  if (contact !== undefined)
    return [{ kind: "text", text: words.lift.touches(labelOf(asked, contact.box), labelOf(asked, contact.obstacle)) }];
  return least === undefined
    ? []
    : [
        {
          kind: "text",
          text: words.lift.clearance(
            millimetres(asked, least.gap.distance),
            labelOf(asked, least.box),
            labelOf(asked, least.obstacle),
          ),
        },
      ];
}

/** What the cell shows besides the load: whatever hangs on the hook with it. */
function trialBlocks(asked: LiftAsked, { slung, answer }: LiftHung): readonly Block[] {
  const { words, figures } = asked;
  const { taking, stop } = answer;
  const tackle = GRAVITY * ((slung.rules.hoist?.tackle ?? 0) + (slung.rig.beam?.mass ?? 0));
  const cell = (load: number): string =>
    `${newtons(asked, load + tackle)} (${figures.number((load + tackle) / GRAVITY, 0)} kg)`;
  const halt = `${newtons(asked, stop.newtons)} (${figures.number(stop.newtons / GRAVITY, 0)} kg)`;
  const weight = slung.rig.load.mass.nominal * GRAVITY;
  const last = taking.at(-1);
  const rows = taking.map((one): readonly Cell[] => [
    `${figures.number(1000 * one.rise, 0)} mm`,
    cell(one.load),
    halt,
    one.onFeet > FREE * weight
      ? `${newtons(asked, one.onFeet)} ${words.lift.standsYet}`
      : `${degrees(asked, one.pitch)} / ${degrees(asked, one.roll)}`,
    { box: "write" },
    { box: "write" },
  ]);
  const free: readonly Cell[] = ["–", cell(weight), halt, "", { box: "write" }, { box: "write" }];
  return [
    { kind: "heading", level: 3, text: words.lift.trial },
    { kind: "text", text: words.lift.trialHow },
    ...(rows.length === 0 ? [{ kind: "text", small: true, text: words.lift.noTaking } as const] : []),
    {
      kind: "table",
      columns: [
        { title: words.lift.rise, width: { mm: 18 }, right: true },
        { title: words.lift.cell, width: { mm: 42 }, right: true },
        { title: words.lift.stop, width: { mm: 38 }, right: true },
        { title: words.lift.meanwhile, width: { share: 1 } },
        { title: words.lift.read, width: { mm: 26 } },
        { title: words.torque.initials, width: { mm: 18 } },
      ],
      rows: last === undefined || last.onFeet > FREE * weight ? [...rows, free] : rows,
    },
  ];
}

/** People, places, what stops it, what is looked at, who approves. */
function placeBlocks(asked: LiftAsked, task: string, how: "hangs" | "stands"): readonly Block[] {
  const { vehicle, words } = asked;
  const found = vehicle.tasks.find(({ id }) => id === task);
  const positions = new Map(vehicle.positions.map(({ id, label }) => [id, label]));
  const empties = (found?.empties ?? []).map((id) => positions.get(id) ?? id);
  const { lift, pack } = words;
  return [
    { kind: "heading", level: 3, text: lift.people[how] },
    {
      kind: "signatures",
      places: [lift.roles.signaller, lift.roles.operator, lift.roles.supervisor, lift.roles.second],
      heads: [pack.sign.name, pack.sign.signature, pack.sign.when],
    },
    { kind: "heading", level: 3, text: lift.stand },
    {
      kind: "text",
      text: `${empties.length === 0 ? "" : `${lift.empties(empties.join(", "))} `}${lift.standRule}`,
    },
    {
      kind: "table",
      columns: lift.standWho.map((title) => ({ title, width: { share: 1 } })),
      rows: Array.from({ length: Math.max(3, found?.people ?? 1) }, () => [{ box: "write" }, { box: "write" }]),
    },
    { kind: "heading", level: 3, text: lift.stops },
    ...lift.stopList[how].map((text): Block => ({ kind: "text", text: `– ${text}` })),
    { kind: "heading", level: 3, text: lift.before },
    {
      kind: "table",
      columns: [
        { title: "", width: { mm: 9 } },
        { title: "", width: { share: 1 } },
      ],
      rows: lift.beforeList[how].map((text) => [{ box: "tick" }, text]),
      signed: true,
    },
    {
      kind: "signatures",
      places: [lift.approve],
      heads: [pack.sign.name, pack.sign.signature, pack.sign.when],
    },
  ];
}
