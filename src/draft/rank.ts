// Owns the order of questions, those first whose answers change the plan most, and what each can change in a sentence.

import { type Doubt, type Stake, type Stakes, stakesOf } from "../plan/index.ts";
import type { Limits } from "../release/index.ts";
import type { Gap, Vehicle } from "../vehicle/index.ts";
import { BY_KIND, type Question, questionsIn } from "./question.ts";
import { Sheet } from "./sheet.ts";
import { doubtOf } from "./supposed.ts";

/** A check that a figure is missing for: of a lift, of what takes a weight, of how tight it is made again. */
export type Unchecked = "lift" | "support" | "torque";

/** What an answer can change. */
export interface AtStake extends Stake {
  /** It moves the plan by so much that a guess is to be looked at. */
  readonly isWorth: boolean;
  readonly unchecked?: Unchecked;
}

export interface Ranked extends Question {
  /** Absent: it was not looked at yet. */
  readonly stake?: AtStake;
}

/** Of the plan's labour, and person-minutes: what was taken for granted and moves it by less is not worth a question. */
const WORTH = { share: 0.03, minutes: 4 };

/** Of the time, what the answers may take to be made before any is searched. */
const PREPARING = 0.25;

/** What is at stake with each of these questions, by its name. */
export function stakesFor(
  text: string,
  vehicle: Vehicle,
  questions: readonly Question[],
  limits: Limits,
): ReadonlyMap<string, AtStake> {
  if (questions.length === 0) return new Map();
  const sheet = new Sheet(text);
  const byKind = new Set(
    sheet.itemsOf("connections").flatMap((item) => (BY_KIND.test(sheet.blockOf(item)) ? [item.id] : [])),
  );
  const { milliseconds, now } = limits;
  const start = now?.() ?? 0;
  const spent = () => (now === undefined ? 0 : now() - start);
  // Each answer is a vehicle: of thousands not all can be made in the time, and those that are not are said not to be looked at.
  const doubts: Doubt[] = [];
  for (const question of questions) {
    if (milliseconds !== undefined && spent() > PREPARING * milliseconds) break;
    doubts.push(doubtOf(question, vehicle, byKind.has(question.of)));
  }
  const left = milliseconds === undefined ? {} : { milliseconds: Math.max(0, milliseconds - spent()) };
  const found = stakesOf(vehicle, doubts, { ...limits, ...left });
  const worth = Math.max(WORTH.minutes, WORTH.share * found.labour);
  return new Map(
    questions.flatMap((question, n) => {
      const stake = found.stakes[n];
      const unchecked = uncheckedBy(question, found);
      return stake === undefined
        ? []
        : [
            [
              question.name,
              { ...stake, isWorth: stake.to >= worth, ...(unchecked === undefined ? {} : { unchecked }) },
            ] as const,
          ];
    }),
  );
}

function uncheckedBy({ asks, key, of }: Question, { lifted, supported, made }: Stakes): Unchecked | undefined {
  if (asks !== "figure") return undefined;
  if (key === "torque") return made.has(of) ? "torque" : undefined;
  if (key !== "mass" && key !== "centre") return undefined;
  return lifted.has(of) ? "lift" : supported.has(of) ? "support" : undefined;
}

/**
 * First what decides whether there is a plan; then what a lift or a support cannot be checked without; then by the minutes that the answer moves, those known before those only bounded; then
 * torques of what is undone; all others in the order given. What was taken for granted and moves nothing is left out.
 */
export function ranked(questions: readonly Question[], stakes: ReadonlyMap<string, AtStake>): readonly Ranked[] {
  return questions
    .map((question): Ranked => {
      const stake = stakes.get(question.name);
      return stake === undefined ? question : { ...question, stake };
    })
    .filter(
      ({ asks, stake }) =>
        asks === "figure" || (stake !== undefined && (stake.decidesPlan || stake.decidesStep || stake.isWorth)),
    )
    .sort((a, b) => compare(a.stake, b.stake));
}

const compare = (a: AtStake | undefined, b: AtStake | undefined): number =>
  placeOf(a) - placeOf(b) || swingOf(b) - swingOf(a);

function placeOf(stake: AtStake | undefined): number {
  if (stake === undefined) return 5;
  if (stake.decidesPlan) return 0;
  if (stake.unchecked === "lift" || stake.unchecked === "support") return 1;
  if (stake.to > 0) return Number.isFinite(stake.to) ? 2 : 4;
  return stake.unchecked === "torque" ? 3 : 5;
}

/** Whole tenths, so that the last bits of a sum put nothing before anything. */
const swingOf = (stake: AtStake | undefined): number =>
  stake === undefined || !Number.isFinite(stake.to) ? 0 : Math.round(10 * stake.to) / 10;

/** The questions of a file with what each can change, searched for as long as the limits have it. */
export function askedOf(
  text: string,
  vehicle: Vehicle,
  gaps: readonly Gap[],
  file: string,
  limits: Limits,
): readonly Ranked[] {
  const questions = questionsIn(text, vehicle, gaps, file);
  return ranked(questions, stakesFor(text, vehicle, questions, limits));
}

/** What is asked, as a sentence. */
export function sayQuestion({ asks, label, key, means, now, on }: Question): string {
  switch (asks) {
    case "figure":
      return `${label}: ${key}? ${means}`;
    case "minutes":
      return `${label}: ${means}? Taken from the catalogue: ${now}.`;
    case "position":
      return `${label}: from where is it reached?`;
    case "joins":
      return `${label}: what does it join? Taken for granted: ${now}.`;
    case "there":
      return `${label}: is it there, and so? ${means}.`;
    case "before":
      return `${label}: must it wait for "${on?.label}"? ${means}.`;
  }
}

const UNCHECKED: Readonly<Record<Unchecked, string>> = {
  lift: "without it the lift cannot be checked",
  support: "without it what takes its weight cannot be checked",
  torque: "without it nothing says how tight it is made again",
};

/** What the answer can change, as a sentence without its full stop. */
export function sayStake({ asks, stake }: Ranked): string {
  if (stake === undefined) return "what it can change was not looked at";
  const { from, to, decidesPlan, decidesStep, unchecked } = stake;
  const minutes = (value: number) => `${Number(value.toFixed(1))} person-minutes`;
  const moves =
    to === 0
      ? []
      : !Number.isFinite(to)
        ? [from > 0 ? `changes the plan by at least ${minutes(from)}` : "what it changes was not found in the time"]
        : to - from < 0.05
          ? [`changes the plan by up to ${minutes(to)}`]
          : [`changes the plan by ${minutes(to)} at the most`];
  const says = [
    ...(decidesPlan ? ["decides whether there is a plan at all"] : []),
    ...(decidesStep ? ["decides whether it is undone at all"] : []),
    ...moves,
    ...(unchecked === undefined ? [] : [UNCHECKED[unchecked]]),
  ];
  if (says.length > 0) return says.join("; ");
  return asks === "figure" ? "changes neither what comes off nor its minutes" : "changes nothing";
}
