// Owns how the crew of an order is answered: who does what when, sharper as it goes on; and how long it takes with one person, two, three.

import type { Schedule } from "../../crew/index.ts";
import {
  answerCrew,
  type Crew,
  type CrewAnswer,
  type CrewCurve,
  type CrewLack,
  type CrewPlan,
  type CrewQuestion,
  type CurvePoint,
  crewCurve,
  crewOf,
  crewOfShop,
  crewQuestion,
  fewestCrew,
  type Held,
  heldIn,
  nearTo,
  type Order,
  type OrderFault,
  type Pin,
  type PinFault,
  pinned,
  solveRelease,
} from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import { type Bench, patient } from "./bench.ts";

export interface CrewAsked {
  readonly order: Order;
  /** So many who can do anything, or ids of the shop's people; absent: all of the shop, or as few as will do where it names none. */
  readonly crew?: number | readonly string[];
  /** Minutes after midnight. */
  readonly begins?: number;
  /** Of search in all; 10 where nothing is said. */
  readonly seconds?: number;
  readonly pins?: readonly Pin[];
  /** A schedule known of the same order and crew with other pins: where it can be mended, the answer is no worse than that. */
  readonly near?: Schedule;
}

/** How far the search was after so many milliseconds. */
export interface CoursePoint {
  readonly ms: number;
  readonly elapsed: number;
  readonly bound: number;
}

export interface CrewSaid {
  /** What is wrong with the order itself: then nothing was asked. */
  readonly faults: readonly OrderFault[];
  /** Nothing comes off as asked, or nothing keeps an order on the way back: then there is nobody to tell anything. */
  readonly none?: "no plan" | "no way back";
  readonly plan?: CrewPlan;
  /** Of each step and change: why it begins then. */
  readonly held: readonly Held[];
  readonly lacks: readonly CrewLack[];
  /** Pins that cannot be; the others hold. */
  readonly refused: readonly PinFault[];
  readonly schedule?: Schedule;
  /** Of the search so far. */
  readonly course: readonly CoursePoint[];
  /** Nothing better comes. */
  readonly isLast: boolean;
}

export interface CurveAsked {
  readonly order: Order;
  /** The most people; where nothing is said 4, or two more than some step of the file asks for. */
  readonly upTo?: number;
  /** Of search for each number of people; 2 where nothing is said. */
  readonly seconds?: number;
}

export type CurveSaid = Pick<CrewCurve, "points" | "knee" | "spares" | "sparedWith"> & {
  readonly faults: readonly OrderFault[];
  readonly isLast: boolean;
};

/** Seconds after which the answer so far is told whole; it is sharpened from there. */
const ROUNDS = [0.3, 2, 5];
const SECONDS = 10;
const UP_TO = 4;
const EACH = 2;

/** Who is there. */
export const crewFor = (vehicle: Vehicle, { crew, begins }: Pick<CrewAsked, "crew" | "begins">): Crew => {
  const { people } = vehicle.shop;
  const found =
    typeof crew === "number"
      ? crewOf(crew)
      : crew !== undefined
        ? crewOfShop(people.filter(({ id }) => crew.includes(id)))
        : people.length > 0
          ? crewOfShop(people)
          : fewestCrew(vehicle);
  return begins === undefined ? found : { ...found, begins };
};

/** The seconds of each round, so that together they are these. */
const roundsOf = (seconds: number): readonly number[] => {
  const ends = [...ROUNDS.filter((end) => end < seconds), seconds];
  return ends.map((end, place) => end - (ends[place - 1] ?? 0));
};

/** A bound found once stands, whatever the next search finds. */
const withBound = (answer: CrewAnswer, bound: number): CrewAnswer => {
  const { plan } = answer;
  if (plan === undefined || bound <= answer.bound) return answer;
  const gap = plan.elapsed > 0 ? Math.max(0, plan.elapsed - bound) / plan.elapsed : 0;
  return { ...answer, bound, plan: { ...plan, bound, gap, status: gap === 0 ? "optimal" : plan.status } };
};

const NOTHING: Omit<CrewSaid, "isLast"> = { faults: [], held: [], lacks: [], refused: [], course: [] };

export const answerCrewOf = async (
  bench: Bench,
  asked: CrewAsked,
  tell: (said: CrewSaid) => void,
): Promise<CrewSaid> => {
  const began = performance.now();
  const { question: order, job, wayOut } = await bench.job(asked.order);
  if (order.faults.length > 0) return { ...NOTHING, faults: order.faults, isLast: true };
  if (job === undefined) return { ...NOTHING, none: wayOut ? "no way back" : "no plan", isLast: true };
  const free = crewQuestion(job, crewFor(order.vehicle, asked));
  const pins = asked.pins ?? [];
  const { question, faults: refused } = pinned(free, pins);
  const held = pins.filter((pin) => !refused.some((fault) => fault.pin === pin));
  let known = asked.near === undefined ? undefined : nearTo(free, question, asked.near, held);
  let bound = 0;
  const course: CoursePoint[] = [];
  let said: CrewSaid = { ...NOTHING, refused, isLast: true };
  const rounds = roundsOf(asked.seconds ?? SECONDS);
  for (const [round, seconds] of rounds.entries()) {
    const note = (elapsed: number, below: number) => {
      bound = Math.max(bound, below);
      course.push({ ms: performance.now() - began, elapsed, bound });
    };
    const start = performance.now();
    const found = answerCrew(
      question,
      {
        seconds,
        seed: round + 1,
        clock: () => performance.now(),
        watch: { better: (_, figures, below) => note(figures.elapsed, below) },
      },
      known,
    );
    const answer = withBound(found, bound);
    bound = Math.max(bound, Number.isFinite(answer.bound) ? answer.bound : 0);
    if (answer.plan !== undefined) note(answer.plan.elapsed, bound);
    // A search that ends before its time has proved its answer, or has nothing left to try: neither has the next.
    const isOver = performance.now() - start < 1000 * seconds || answer.plan?.status === "optimal";
    const isLast = isOver || round === rounds.length - 1 || answer.status === "infeasible";
    known = answer.schedule;
    said = { ...saidOf(question, answer), refused, course: [...course], isLast };
    if (isLast) return said;
    tell(said);
  }
  return said;
};

const saidOf = (question: CrewQuestion, { plan, schedule, lacks }: CrewAnswer) => ({
  faults: [],
  lacks,
  held: schedule === undefined ? [] : heldIn(question, schedule),
  ...(plan === undefined ? {} : { plan }),
  ...(schedule === undefined ? {} : { schedule }),
});

export const answerCurveOf = async (
  bench: Bench,
  { order, upTo, seconds = EACH }: CurveAsked,
  tell: (said: CurveSaid) => void,
): Promise<CurveSaid> => {
  const { question } = await bench.job(order);
  if (question.faults.length > 0) return { faults: question.faults, points: [], spares: [], isLast: true };
  const points: CurvePoint[] = [];
  const curve = crewCurve(
    question,
    upTo ?? Math.max(UP_TO, fewestCrew(question.vehicle).people.length + 2),
    (about) =>
      solveRelease(
        {
          what: "release",
          question: about,
          others: false,
          reasons: false,
          about: "",
          milliseconds: 1000 * seconds * 5,
        },
        patient(),
      ).result,
    { seconds, seed: 1, clock: () => performance.now() },
    (point) => {
      points.push(point);
      tell({ faults: [], points: [...points], spares: [], isLast: false });
    },
  );
  const { knee, sparedWith, spares } = curve;
  return {
    faults: [],
    points: curve.points,
    spares,
    ...(knee === undefined ? {} : { knee }),
    ...(sparedWith === undefined ? {} : { sparedWith }),
    isLast: true,
  };
};
