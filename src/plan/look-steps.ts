// Owns the last looks as steps of a job done by several: what each looks at, from where, and what must not come back before it.

import type { Need } from "../release/index.ts";
import type { Back } from "./back.ts";
import { backId, type Glass } from "./glass.ts";
import { labelOf } from "./labels.ts";
import { lastLooks } from "./last-look.ts";
import { Moments } from "./moments.ts";
import type { Question } from "./question.ts";
import type { Sequence } from "./sequence.ts";
import { type Draft, draftBack, plain } from "./steps.ts";
import { restsOn } from "./waits.ts";

export interface LookStep {
  /** The step of the way back that closes over what is looked at in the order for one pair of hands. */
  readonly closes: string;
  /** Connections and works, by their ids on the way out. */
  readonly verify: readonly string[];
  /** What gives access, by its id on the way out: none of it is back before the look. */
  readonly keepsOpen: readonly string[];
  readonly says: Draft;
  readonly on: ReadonlySet<string>;
  readonly off: ReadonlySet<string>;
}

/** Needs as far as they say where people can get at something: states can be set again, and work that leaves nothing to undo stands in nobody's way. */
const lasting = (need: Need, closing: ReadonlySet<string>): Need => {
  if ("done" in need) return closing.has(need.done) ? need : { all: [] };
  if ("all" in need) return { all: need.all.map((one) => lasting(one, closing)) };
  return "any" in need ? { any: need.any.map((one) => lasting(one, closing)) } : need;
};

/**
 * The last looks of a way back. In another order another step may close first, so of each thing the access that stays open longest is kept open until it has been looked at.
 *
 * @param turned the states that the job turns.
 */
export const lookSteps = (
  question: Question,
  { order, verdict }: Sequence,
  back: Back,
  glass: Glass,
  turned: ReadonlySet<string>,
): readonly LookStep[] => {
  const moments = new Moments(glass.mirror.problem, glass.order);
  const closing = new Set(
    question.problem.tasks.filter((task) => task.lift !== undefined || task.hang !== undefined).map((task) => task.id),
  );
  const drafts = draftBack(question, order, verdict.lifts, back.steps);
  const verified = (id: string) => {
    const source = question.sources.get(id);
    const check = source?.kind === "work" ? source.work.check : undefined;
    const hidden = question.vehicle.connections.some((each) => each.id === id && each.hidden);
    return { id, label: check ?? labelOf(question, id), hidden };
  };
  return lastLooks(question, order, back.steps).flatMap(({ verify, before }): readonly LookStep[] => {
    const closes = back.steps[before];
    const draft = drafts[before];
    if (closes === undefined || draft === undefined) return [];
    const moment = back.steps.length - before;
    const accessTo = (id: string): readonly string[] => {
      const ways = question.problem.connections.find((each) => each.id === id)?.ways.map((way) => way.id) ?? [id];
      const open = ways.flatMap(
        (way) => restsOn(moments, lasting({ all: question.access.get(way) ?? [] }, closing), moment) ?? [],
      );
      return open[0]?.made ?? [];
    };
    const { position } = draft;
    const place = position === undefined ? undefined : question.places.get(position);
    const there = place === undefined ? undefined : restsOn(moments, { all: place.needs }, moment);
    return [
      {
        closes: backId(closes),
        verify,
        keepsOpen: [...verify.flatMap(accessTo), ...(there?.made ?? [])],
        says: {
          ...plain({ action: "verify", id: draft.id, label: "Last look", minutes: 0, people: 1, position }),
          closes: draft.label,
          verify: verify.map(verified),
        },
        on: new Set(there?.on),
        off: new Set((place?.without ?? []).filter((toggle) => turned.has(toggle))),
      },
    ];
  });
};
