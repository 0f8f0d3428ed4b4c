// Owns what a schedule known before is worth to a question that differs in its pins: mended simply where it breaks one, so that the first answer is no search's first guess.

import { type Changed, check, type Placed, type Schedule } from "../crew/index.ts";
import type { Pin } from "./crew-pin.ts";
import { PIN } from "./crew-plan.ts";
import type { CrewQuestion } from "./crew-question.ts";

type Laid = Omit<Placed, "task">;

/** Everything of a schedule, changed one by one. */
const each = (schedule: Schedule, change: (laid: Laid) => Laid): Schedule => ({
  tasks: schedule.tasks.map((placed): Placed => ({ ...placed, ...change(placed) })),
  changes: schedule.changes.map((placed): Changed => ({ ...placed, ...change(placed) })),
});

const placedFor = ({ tasks, changes }: Schedule, step: string): readonly Laid[] => [
  ...tasks.filter(({ task }) => task === step),
  ...changes.filter(({ state, to }) => `${to ? "set" : "clear"}:${state}` === step),
];

const later = (schedule: Schedule, from: number, by: number): Schedule =>
  each(schedule, (laid) =>
    laid.start < from ? laid : { ...laid, start: laid.start + by, free: laid.free + by, end: laid.end + by },
  );

/** Two persons change places, everywhere or in a part. */
const exchanged = (schedule: Schedule, one: string, other: string, within: (start: number) => boolean): Schedule =>
  each(schedule, (laid) =>
    within(laid.start)
      ? { ...laid, people: laid.people.map((id) => (id === one ? other : id === other ? one : id)) }
      : laid,
  );

const keeps = (schedule: Schedule, pin: Pin): boolean =>
  placedFor(schedule, pin.step).every((laid) =>
    "by" in pin ? laid.people.includes(pin.by) : "at" in pin ? laid.start === pin.at : laid.start >= pin.from,
  );

/** Ways to mend what breaks a pin, the least first. */
const mendings = (schedule: Schedule, pin: Pin): readonly Schedule[] => {
  const [first] = placedFor(schedule, pin.step).filter((laid) =>
    "by" in pin ? !laid.people.includes(pin.by) : "at" in pin ? laid.start !== pin.at : laid.start < pin.from,
  );
  if (first === undefined) return [schedule];
  const { start, people } = first;
  if (!("by" in pin)) {
    const wait = ("at" in pin ? pin.at : pin.from) - start;
    return wait < 0 ? [] : [later(schedule, start, wait)];
  }
  const spans = [(at: number) => at === start, (at: number) => at >= start, (at: number) => at <= start, () => true];
  return spans.flatMap((within) => people.map((person) => exchanged(schedule, person, pin.by, within)));
};

/**
 * The schedule as one of the pinned question; undefined where simple mending does not make it legal.
 *
 * @param free the question without pins, which the schedule answers but for what its own pins asked.
 */
export const nearTo = (
  free: CrewQuestion,
  question: CrewQuestion,
  schedule: Schedule,
  pins: readonly Pin[],
): Schedule | undefined => {
  let now: Schedule = { ...schedule, tasks: schedule.tasks.filter(({ task }) => !task.startsWith(PIN)) };
  for (const pin of pins) {
    if (keeps(now, pin)) continue;
    const mended = mendings(now, pin).find((one) => keeps(one, pin) && check(free.problem, one).legal);
    if (mended === undefined) return undefined;
    now = mended;
  }
  const standing = question.problem.tasks.flatMap(({ id, minutes, begun }): readonly Placed[] => {
    if (begun === undefined || !id.startsWith(PIN)) return [];
    const end = begun.start + minutes;
    return [{ task: id, start: begun.start, free: end, end, people: [] }];
  });
  const whole = { ...now, tasks: [...now.tasks, ...standing] };
  return check(question.problem, whole).legal ? whole : undefined;
};
