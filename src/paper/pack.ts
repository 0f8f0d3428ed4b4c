// Owns the pack: which sheets it has, in which order, and what stands on every page.

import type { CrewPlan, KitDocument, Plan } from "../plan/index.ts";
import { tagsOf } from "../tag/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { cardsSheets, guessedOf } from "./cards.ts";
import { figuresOf } from "./figures.ts";
import { holesSheet } from "./hole-cards.ts";
import { kitSheet } from "./kit-sheet.ts";
import { liftSheet } from "./lift-sheet.ts";
import { type RunTold, runSheets } from "./run-sheets.ts";
import type { Lang, Pack, Paper, Roll, Sheet, SheetKind } from "./sheet.ts";
import { signOffSheet } from "./sign-off-sheet.ts";
import { bagFaces, type Tagging, tagFaces } from "./tag-faces.ts";
import { chartSheet } from "./tie-chart.ts";
import { torqueSheet } from "./torque-sheet.ts";
import { wordsOf } from "./words.ts";

/** What a pack is made from. */
export interface PackAsked {
  readonly vehicle: Vehicle;
  readonly plan: Plan;
  readonly kit: KitDocument;
  /** Who does what when, where a crew was given. */
  readonly crew?: CrewPlan;
  /** Of that crew: only this person's card. */
  readonly person?: string;
  /** The run that is carried out, where the pack is of one. */
  readonly run?: RunTold;
  readonly order?: string;
  /** The run that tags lead to, where the pack is of an order that has one. */
  readonly tagsOfRun?: string;
  /** What tells this version of the file from others: the beginning of its SHA-256, or its number in a store. */
  readonly version: { readonly digest: string } | { readonly number: number };
  /** When it is made, milliseconds since 1970. */
  readonly made: number;
  readonly lang: Lang;
  readonly paper: Paper;
  readonly roll?: Roll;
  /** The web app's address. */
  readonly origin: string;
  readonly hoist?: string;
  /** Only these sheets; absent: all of an order, or of a run its page and record. */
  readonly only?: readonly SheetKind[];
}

/** Sheets of an order, in the order of the pack: the chart is its second page, behind the cover. */
const ALL: readonly SheetKind[] = ["chart", "cards", "lift", "kit", "torque", "holes", "sign-off", "tags"];
const OF_RUN: readonly SheetKind[] = ["shift", "record"];

export function packOf(asked: PackAsked): Pack {
  const { vehicle, plan, kit, crew, run, order, lang, paper, roll } = asked;
  const tagsOfRun = asked.tagsOfRun ?? run?.id;
  const words = wordsOf(lang);
  const figures = figuresOf(lang);
  const tagging: Tagging = {
    tags: tagsOf(vehicle),
    origin: asked.origin,
    ...(tagsOfRun === undefined ? {} : { run: tagsOfRun }),
  };
  const jobs = plan.jobs.map(({ label }) => label).join(", ");
  const wanted =
    asked.only ??
    (asked.person === undefined ? undefined : (["cards"] as const)) ??
    (roll !== undefined ? (["tags"] as const) : run === undefined ? ALL : OF_RUN);
  const faces = { tags: tagFaces(vehicle, plan, tagging, words), bags: bagFaces(kit, tagging, words) };
  const make: Readonly<Record<SheetKind, () => readonly Sheet[]>> = {
    chart: () => [chartSheet(vehicle, plan, tagging, words, paper)],
    cards: () =>
      cardsSheets({
        vehicle,
        plan,
        ...(crew === undefined ? {} : { crew }),
        ...(asked.person === undefined ? {} : { person: asked.person }),
        tagging,
        words,
        figures,
      }),
    lift: () => [
      liftSheet({ vehicle, plan, words, figures, ...(asked.hoist === undefined ? {} : { hoist: asked.hoist }) }),
    ],
    kit: () => [kitSheet(kit, tagging, words, figures)],
    torque: () => [torqueSheet(vehicle, plan, tagging, words, figures)],
    holes: () => [holesSheet(vehicle, plan, tagging, words, figures, paper)],
    "sign-off": () => [signOffSheet(vehicle, plan, kit, words)],
    tags: () => [
      {
        kind: "tags",
        title: words.tags.title,
        blocks: [
          { kind: "text", small: true, text: words.tags.reading },
          { kind: "faces", faces: faces.tags },
        ],
      },
      ...(faces.bags.length === 0
        ? []
        : [
            {
              kind: "tags",
              title: words.tags.bags,
              joins: "whole",
              blocks: [{ kind: "faces", faces: faces.bags }],
            } as const,
          ]),
    ],
    shift: () => (run === undefined ? [] : [runSheets(run, words, figures).shift]),
    record: () => (run === undefined ? [] : [runSheets(run, words, figures).record]),
  };
  const made = wanted.flatMap((kind) => make[kind]());
  const whole = asked.only === undefined && asked.person === undefined && roll === undefined && run === undefined;
  const sheets = whole ? made.filter(({ empty }) => empty !== true) : made;
  return {
    format: "unmoor/pack/1",
    lang,
    paper,
    ...(roll === undefined ? {} : { roll }),
    title: words.pack.title(jobs, vehicle.name),
    head: [
      ...(order === undefined ? [] : [words.pack.order(order)]),
      vehicle.name,
      "digest" in asked.version ? words.pack.file(asked.version.digest) : words.pack.version(asked.version.number),
      words.pack.made(figures.moment(asked.made)),
    ],
    pageOf: words.pack.pageOf,
    continued: words.pack.continued,
    boxes: { done: words.pack.done, second: words.pack.second },
    sheets: (whole ? [cover(asked, sheets), ...sheets] : sheets).map(levelled),
  };
}

/** Headings without a gap between their levels, as whoever is read to needs them: a third level stands under a second. */
function levelled(sheet: Sheet): Sheet {
  let second = false;
  return {
    ...sheet,
    blocks: sheet.blocks.map((block) => {
      if (block.kind !== "heading") return block;
      const level = second ? block.level : 2;
      second ||= block.level === 2;
      return { ...block, level };
    }),
  };
}

/** The first page: what the job is, how long, what goes before everything, and what is in the pack. */
function cover({ vehicle, plan, crew, lang }: PackAsked, sheets: readonly Sheet[]): Sheet {
  const words = wordsOf(lang);
  const figures = figuresOf(lang);
  const { cover: say, pack } = words;
  const phase = (visits: Plan["out"]): string => figures.minutes(visits.reduce((sum, { minutes }) => sum + minutes, 0));
  const steps = [...plan.out, ...plan.work, ...plan.back].flatMap((visit) => visit.steps);
  const guessed = steps.filter((step) => guessedOf(step).length > 0).length;
  return {
    kind: "cards",
    title: plan.jobs.map(({ label }) => label).join(", "),
    blocks: [
      { kind: "caution", word: pack.signals.WARNING, text: pack.lockout },
      { kind: "text", text: pack.general },
      ...(vehicle.note === undefined ? [] : [{ kind: "text", text: pack.invented(vehicle.note) } as const]),
      {
        kind: "table",
        columns: [
          { title: "", width: { mm: 52 } },
          { title: "", width: { share: 1 } },
        ],
        rows: [
          [{ strong: say.steps }, String(steps.length)],
          [
            { strong: `${words.cards.phases.out}, ${words.cards.phases.work}, ${words.cards.phases.back}` },
            `${phase(plan.out)}; ${phase(plan.work)}; ${phase(plan.back)}. ${say.oneByOne}`,
          ],
          [
            { strong: say.labour },
            say.labourIs(
              figures.number(plan.figures.labour),
              figures.number(plan.figures.bound),
              plan.status === "optimal",
            ),
          ],
          ...(crew === undefined
            ? []
            : [
                [
                  { strong: say.crew },
                  say.elapsed(
                    crew.crew.people.map(({ label }) => label).join(", "),
                    figures.minutes(crew.elapsed),
                    figures.minutes(crew.bound),
                  ),
                ] as const,
              ]),
          ...plan.lifts.map(
            ({ label, mass, limit }) =>
              [
                { strong: label },
                `${figures.number(mass)} kg${limit === null ? "" : `, ${say.limit(figures.number(limit))}`}`,
              ] as const,
          ),
          ...(plan.setAside.length === 0
            ? []
            : [
                [
                  { strong: words.cards.names.setAside },
                  plan.setAside.map((id) => plan.labels[id] ?? id).join(", "),
                ] as const,
              ]),
          ...(guessed === 0 ? [] : [[{ strong: say.assumed }, say.assumedSteps(guessed)] as const]),
          ...(plan.checks.back.holds
            ? []
            : [[{ strong: say.faults }, say.faultsAre(plan.checks.back.faults.length)] as const]),
        ],
      },
      { kind: "heading", level: 2, text: say.contents },
      {
        kind: "table",
        columns: [
          { title: "", width: { mm: 9 } },
          { title: "", width: { share: 1 } },
          { title: "", width: { mm: 14 }, right: true },
        ],
        // The first sheet is the one that this stands on.
        rows: sheets.map(({ title }, n) => [{ box: "tick" }, { sheet: n + 1, title }, { pageof: n + 1 }]),
      },
    ],
  };
}
