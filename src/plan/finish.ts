// Owns the network of a crew's schedule: its steps with times by chance, each begun when its people, its place, its tools and what it comes after are ready, in the order that the schedule has.
//
// That is how a plan is carried out: nobody changes the order because somebody is early, and nobody begins before what was to be over is over. What exists in
// several (tools, room) is handed on one by one, so the order holds whatever the times turn out to be.

import type { Schedule, Task, Work } from "../crew/index.ts";
import type { Activity, Calendar, Lognormal, Network } from "../times/index.ts";
import type { CrewQuestion } from "./crew-question.ts";

/** The time of a step or of a change of state, from the minutes that the plan has for it. */
export type TimeOf = (id: string, minutes: number) => Lognormal | { readonly minutes: number };

/** A piece of work as the schedule has it. */
interface Placed {
  readonly id: string;
  readonly work: Work;
  readonly task?: Task;
  readonly start: number;
  readonly free: number;
  readonly end: number;
  readonly people: readonly string[];
  /** Its place among works that begin and end together: before what comes after it. */
  readonly rank: number;
}

/** Something taken from the beginning of one work to the end of another, both mostly the same. */
interface Taking {
  readonly from: Placed;
  readonly start: number;
  readonly end: number;
  readonly until: string;
  readonly count: number;
}

const ROUNDING = 1e-6;

const byTime = (a: Placed, b: Placed): number => a.start - b.start || a.end - b.end || a.rank - b.rank;

const endId = ({ id, task }: Placed): string => ((task?.alone ?? 0) > 0 ? `${id} goes on` : id);

const placedOf = ({ problem }: CrewQuestion, schedule: Schedule): readonly Placed[] => {
  const tasks = new Map(problem.tasks.map((task, rank) => [task.id, { task, rank }]));
  const states = new Map(problem.states.map((state) => [state.id, state]));
  const turns = new Map<string, number>();
  return [
    ...schedule.tasks.flatMap(({ task: id, ...rest }): readonly Placed[] => {
      const found = tasks.get(id);
      return found === undefined ? [] : [{ id, work: found.task, ...found, ...rest }];
    }),
    ...schedule.changes.flatMap(({ state: id, to, ...rest }): readonly Placed[] => {
      const state = states.get(id);
      if (state === undefined) return [];
      const turn = (turns.get(id) ?? 0) + 1;
      turns.set(id, turn);
      return [
        { id: `change:${id}:${turn}:${to ? "on" : "off"}`, work: to ? state.set : state.clear, ...rest, rank: -1 },
      ];
    }),
  ].sort(byTime);
};

class Weaver {
  private readonly question: CrewQuestion;
  private readonly placed: readonly Placed[];
  private readonly byId: ReadonlyMap<string, Placed>;
  private readonly waits = new Map<string, Map<string, number>>();
  private readonly soon = new Map<string, { readonly id: string; readonly lag: number }[]>();
  private readonly soonest = new Map<string, number>();

  constructor(question: CrewQuestion, schedule: Schedule) {
    this.question = question;
    this.placed = placedOf(question, schedule);
    this.byId = new Map(this.placed.map((one) => [one.id, one]));
  }

  weave(timeOf: TimeOf): Network {
    this.precedence();
    this.people();
    this.states();
    this.keptApart();
    this.stocks();
    this.rooms();
    this.holdBack();
    return {
      activities: this.placed.flatMap((one): readonly Activity[] => {
        const { id, work, task, people } = one;
        const calendar = this.calendar(one);
        const fixed = work.minutes === 0 || people.length === 0;
        const alone = task?.alone ?? 0;
        return [
          {
            id,
            time: fixed ? { minutes: work.minutes } : timeOf(id, work.minutes),
            after: [...(this.waits.get(id) ?? [])].map(([other, lag]) => ({ id: other, lag })),
            ...(this.soon.has(id) ? { soon: this.soon.get(id) ?? [] } : {}),
            notBefore: Math.max(this.question.problem.now ?? 0, this.soonest.get(id) ?? 0),
            ...(calendar === undefined ? {} : { calendar }),
          },
          ...(alone > 0
            ? [
                // Whoever does again what has gone on too long does the work before it again as well.
                { id: endId(one), time: { minutes: alone }, after: [{ id, lag: 0 }], soon: [{ id, lag: 0 }] },
              ]
            : []),
        ];
      }),
    };
  }

  private wait(id: string, other: string, lag = 0): void {
    const waits = this.waits.get(id) ?? new Map<string, number>();
    waits.set(other, Math.max(lag, waits.get(other) ?? Number.NEGATIVE_INFINITY));
    this.waits.set(id, waits);
  }

  /** Whichever of the two is over before the other begins stays before it. */
  private keepOrder(a: Placed, b: Placed, leaves = endId): void {
    const [first, second] = byTime(a, b) <= 0 ? [a, b] : [b, a];
    if (first.free <= second.start + ROUNDING) this.wait(second.id, leaves(first));
  }

  private precedence(): void {
    for (const { id, task } of this.placed)
      for (const { task: other, least, most } of task?.after ?? []) {
        const before = this.byId.get(other);
        if (before === undefined) continue;
        this.wait(id, endId(before), least ?? 0);
        if (most !== undefined) this.soon.set(id, [...(this.soon.get(id) ?? []), { id: endId(before), lag: most }]);
      }
  }

  /**
   * A step that something must follow soon is held back as the plan holds it back: it begins when what else is waited for by the one that follows is as near its end as the plan has it.
   * Anybody can ask how long that will be yet; how long his own step will take nobody knows.
   */
  private holdBack(): void {
    const byEnd = new Map(this.placed.flatMap((one) => [[endId(one), { one, end: one.end }] as const]));
    for (const one of this.placed) if (!byEnd.has(one.id)) byEnd.set(one.id, { one, end: one.free });
    for (const [id, soon] of this.soon)
      for (const { id: firstId } of soon) {
        const first = byEnd.get(firstId)?.one;
        if (first === undefined) continue;
        for (const otherId of [...(this.waits.get(id)?.keys() ?? [])]) {
          const other = byEnd.get(otherId);
          // Only what the plan begins before it: what comes later may wait for it.
          if (other === undefined || other.one.id === first.id || other.one.start >= first.start - ROUNDING) continue;
          this.wait(first.id, otherId, Math.min(0, first.start - other.end));
        }
      }
  }

  private people(): void {
    const { moves, positions, people } = this.question.problem;
    const row = new Map(positions.map(({ id }, index) => [id, index]));
    const going = (from: string | undefined, to: string | undefined) =>
      from === undefined || to === undefined ? 0 : (moves?.[row.get(from) ?? -1]?.[row.get(to) ?? -1] ?? 0);
    for (const { id, at } of people) {
      let stands = at;
      let last: Placed | undefined;
      for (const one of this.placed) {
        if (!one.people.includes(id)) continue;
        const way = going(stands, one.work.position);
        if (last !== undefined) this.wait(one.id, last.id, way);
        else this.soonest.set(one.id, Math.max(way, this.soonest.get(one.id) ?? 0));
        stands = one.work.position ?? stands;
        last = one;
      }
    }
  }

  private states(): void {
    const { problem } = this.question;
    for (const state of problem.states) {
      const changes = this.placed.filter(({ id }) => id.startsWith(`change:${state.id}:`));
      const named = new Set([state.set, state.clear].flatMap(({ after, before }) => [...after, ...before]));
      for (const change of changes)
        for (const one of this.placed)
          if (
            one !== change &&
            (changes.includes(one) ||
              named.has(one.id) ||
              one.work.on.includes(state.id) ||
              one.work.off.includes(state.id))
          )
            this.keepOrder(change, one);
    }
  }

  private keptApart(): void {
    for (const [a, b] of this.question.problem.apart) {
      const [one, other] = [this.byId.get(a), this.byId.get(b)];
      if (one !== undefined && other !== undefined) this.keepOrder(one, other);
    }
    for (const one of this.placed)
      for (const place of one.work.empties)
        for (const other of this.placed)
          if (other !== one && other.work.position === place && other.people.length > 0) this.keepOrder(one, other);
  }

  /** Each piece is handed on from the one who had it to the next. */
  private handOn(takings: readonly Taking[], count: number): void {
    const pieces: { until: number; by: string | undefined }[] = Array.from({ length: count }, () => ({
      until: Number.NEGATIVE_INFINITY,
      by: undefined,
    }));
    for (const taking of takings.toSorted((a, b) => byTime(a.from, b.from))) {
      // Who gave it back last is waited for least beyond what is waited for anyhow.
      const free = pieces
        .filter(({ until }) => until <= taking.start + ROUNDING)
        .sort((a, b) => b.until - a.until)
        .slice(0, taking.count);
      for (const piece of free) {
        if (piece.by !== undefined && piece.by !== taking.from.id) this.wait(taking.from.id, piece.by);
        piece.until = taking.end;
        piece.by = taking.until;
      }
    }
  }

  private stocks(): void {
    const { stocks, holds } = this.question.problem;
    for (const { id, count } of stocks) {
      const uses = this.placed.flatMap((from): readonly Taking[] =>
        from.work.uses
          .filter(({ stock }) => stock === id)
          .map((use) => ({ from, start: from.start, end: from.end, until: endId(from), count: use.count })),
      );
      const held = holds.flatMap((hold): readonly Taking[] => {
        const [from, until] = [this.byId.get(hold.from), this.byId.get(hold.until)];
        if (hold.stock !== id || from === undefined || until === undefined) return [];
        return [{ from, start: from.start, end: until.end, until: endId(until), count: hold.count }];
      });
      this.handOn([...uses, ...held], count);
    }
  }

  private rooms(): void {
    for (const { id, room } of this.question.problem.positions)
      this.handOn(
        this.placed
          .filter(({ work, people }) => work.position === id && people.length > 0)
          .map((from) => ({ from, start: from.start, end: from.free, until: from.id, count: from.people.length })),
        room,
      );
  }

  /** When all its people are there. */
  private calendar({ people, work }: Placed): Calendar | undefined {
    const shifts = this.question.problem.people.flatMap(({ id, shifts }) =>
      shifts !== undefined && people.includes(id) ? [shifts] : [],
    );
    const [first, ...others] = shifts;
    if (first === undefined) return undefined;
    const spells = others.reduce(
      (both, other) =>
        both.flatMap((a) =>
          other.flatMap((b) => {
            const [from, until] = [Math.max(a.from, b.from), Math.min(a.until, b.until)];
            return from < until ? [{ from, until }] : [];
          }),
        ),
      [...first],
    );
    return { spells, pauses: work.pauses };
  }
}

/** The network that carries out this schedule in its order. */
export const finishNetwork = (question: CrewQuestion, schedule: Schedule, timeOf: TimeOf): Network =>
  new Weaver(question, schedule).weave(timeOf);

/** What runs know a step by: the way that it goes, `back:` before it on the way back. */
export const workOf = (question: CrewQuestion, id: string): string => {
  const step = question.steps.get(id);
  if (step?.out !== undefined && "release" in step.out) return step.out.way;
  return step?.back !== undefined && "refit" in step.back ? `back:${step.back.way}` : id;
};
