// Owns the whole job as one list of steps, out, work and back, each with what it waits for: what a crew may do side by side.

import type { Plan as Answer, Step } from "../release/index.ts";
import { idOf } from "./arrange.ts";
import { type Back, wayBack } from "./back.ts";
import type { BackStep } from "./back-step.ts";
import { backId, type Glass, glassOf } from "./glass.ts";
import { labelOf } from "./labels.ts";
import { lookSteps } from "./look-steps.ts";
import { Moments } from "./moments.ts";
import type { Question } from "./question.ts";
import { type Sequence, sequence } from "./sequence.ts";
import { type Draft, draftBack, draftOut, plain } from "./steps.ts";
import { restsOn, type Wait, type Waits, waitsOf } from "./waits.ts";

/** One step of the whole job that is no change of a state. Ids: of the connection or task on the way out, `back:` and that on the way back, `look:` and that of a last look. */
export interface JobStep {
  readonly id: string;
  readonly phase: "out" | "work" | "back";
  /** Its step of the order out, or of the way back; a last look has none. */
  readonly out?: Step;
  readonly back?: BackStep;
  /** What the plan says of it: label, minutes, people, skill, tools, position. */
  readonly says: Draft;
  /** Steps that must have ended before it. */
  readonly after: ReadonlySet<string>;
  /** Toggles on and off throughout. */
  readonly on: ReadonlySet<string>;
  readonly off: ReadonlySet<string>;
  /** Of a last look: the steps it looks at. */
  readonly looksAt: readonly string[];
}

/** A state of the vehicle that the job sets and undoes. */
export interface JobState {
  readonly id: string;
  readonly set: Draft;
  readonly clear: Draft;
  /** Steps that must have ended before it is set, and steps that begin only when it is undone for good. */
  readonly after: ReadonlySet<string>;
  readonly before: ReadonlySet<string>;
  readonly on: ReadonlySet<string>;
  readonly off: ReadonlySet<string>;
  /** It is undone under the same conditions as it is set, for the order keeps to that throughout. */
  readonly alike: boolean;
  /** It is not undone from the beginning of the one step to the end of the other. */
  readonly keeps: readonly (readonly [string, string])[];
  /** States that must be on when it is undone. */
  readonly handed: readonly string[];
}

export interface WholeJob {
  readonly question: Question;
  readonly sequence: Sequence;
  readonly back: Back;
  readonly steps: readonly JobStep[];
  readonly states: readonly JobState[];
}

const NONE: ReadonlySet<string> = new Set();

class Builder {
  private readonly question: Question;
  private readonly sequence: Sequence;
  private readonly back: Back;
  private readonly glass: Glass;
  private readonly out: Waits;
  private readonly toggles: ReadonlySet<string>;
  private readonly after = new Map<string, Set<string>>();
  /** By id on the way out: its id on the way back, where it comes back. */
  private readonly home = new Map<string, string>();
  private readonly drafts = new Map<string, Draft>();
  private readonly undoing = new Map<string, Draft>();

  constructor(question: Question, sequence: Sequence, back: Back, glass: Glass, out: Waits) {
    this.question = question;
    this.sequence = sequence;
    this.back = back;
    this.glass = glass;
    this.out = out;
    this.toggles = new Set(question.problem.tasks.filter((task) => task.toggle).map((task) => task.id));
    for (const step of back.steps)
      if (!("do" in step) && !("undo" in step)) {
        const id = backId(step);
        this.home.set("perform" in step ? step.perform : id.slice("back:".length), id);
      }
  }

  build(): WholeJob {
    const outSteps = this.outSteps();
    const backSteps = this.backSteps();
    this.waitOut(outSteps);
    this.waitBack(outSteps, backSteps);
    const looks = this.looks();
    const steps = [
      ...outSteps,
      ...backSteps.flatMap((step) => [
        ...looks.filter((look) => look.closes === step.id).map((look) => look.step),
        step,
      ]),
    ];
    const closed = steps.map((step): JobStep => ({ ...step, after: this.after.get(step.id) ?? NONE }));
    return {
      question: this.question,
      sequence: this.sequence,
      back: this.back,
      steps: closed,
      states: this.states(),
    };
  }

  private wait(id: string, ...before: readonly string[]): void {
    const known = this.after.get(id) ?? new Set<string>();
    for (const one of before) if (one !== id) known.add(one);
    this.after.set(id, known);
  }

  private outSteps(): readonly JobStep[] {
    const { order, verdict } = this.sequence;
    const { sources } = this.question;
    const isGoal = (step: Step) => "do" in step && sources.get(step.do)?.kind === "goal";
    const drafts = draftOut(this.question, order, verdict.lifts);
    const shown = order.filter((step) => !isGoal(step));
    const draftOf = new Map(shown.map((step, index) => [step, drafts[index]]));
    const firstWork = order.findIndex((step) => "do" in step && "job" in (sources.get(step.do) ?? {}));
    return order.flatMap((step, index): readonly JobStep[] => {
      const id = idOf(step);
      const draft =
        draftOf.get(step) ??
        plain({ action: "work", id, label: labelOf(this.question, id), minutes: 0, people: 0, position: undefined });
      if (this.toggles.has(id)) {
        const list = "undo" in step ? this.undoing : this.drafts;
        if (!list.has(id)) list.set(id, draft);
        return [];
      }
      const wait = this.out.of.get(id);
      return [
        {
          id,
          phase: firstWork >= 0 && index >= firstWork ? "work" : "out",
          out: step,
          says: draft,
          after: NONE,
          on: wait?.on ?? NONE,
          off: wait?.off ?? NONE,
          looksAt: [],
        },
      ];
    });
  }

  private backSteps(): readonly JobStep[] {
    const { order, verdict } = this.sequence;
    const drafts = draftBack(this.question, order, verdict.lifts, this.back.steps);
    return this.back.steps.flatMap((step, index): readonly JobStep[] => {
      const id = backId(step);
      const draft = drafts[index];
      if (draft === undefined) return [];
      if ("do" in step || "undo" in step) {
        const list = "undo" in step ? this.undoing : this.drafts;
        if (!list.has(id)) list.set(id, draft);
        return [];
      }
      const wait = this.glass.waits.of.get("perform" in step ? step.perform : id.slice("back:".length));
      return [
        {
          id,
          phase: "back",
          back: step,
          says: draft,
          after: NONE,
          on: wait?.on ?? NONE,
          off: wait?.off ?? NONE,
          looksAt: [],
        },
      ];
    });
  }

  /** What the way out waits for, and what may not come back before it is through. */
  private waitOut(steps: readonly JobStep[]): void {
    this.keepSides(steps.map((step) => step.id));
    for (const { id } of steps) {
      const wait = this.out.of.get(id);
      this.wait(id, ...(wait?.needs ?? []), ...(wait?.follows ?? []));
      for (const need of wait?.needs ?? []) {
        const home = this.home.get(need);
        if (home !== undefined && home !== need) this.wait(home, id);
      }
      const home = this.home.get(id);
      if (home !== undefined) this.wait(home, id);
    }
  }

  /**
   * The way back reads off the way out what came before `first`, and what was opened before its fluid was drained: that is filled without waiting for it. So they stay
   * before.
   */
  private keepSides(ids: readonly string[]): void {
    const { vehicle } = this.question;
    const place = new Map(ids.map((id, index) => [id, index]));
    const at = (id: string) => place.get(id) ?? -1;
    for (const first of vehicle.first.filter((id) => place.has(id))) this.wait(first, ...ids.slice(0, at(first)));
    for (const { id, drains } of vehicle.tasks) {
      if (!place.has(id)) continue;
      const opened = vehicle.connections.filter(
        (one) =>
          one.holds !== undefined && drains.includes(one.holds.fluid) && place.has(one.id) && at(one.id) < at(id),
      );
      this.wait(id, ...opened.map((one) => one.id));
    }
  }

  /** The waits of the mirror, read backwards. */
  private waitBack(out: readonly JobStep[], back: readonly JobStep[]): void {
    for (const [id, wait] of this.glass.waits.of) {
      const home = this.home.get(id);
      if (home === undefined) continue;
      for (const need of [...wait.needs, ...wait.follows]) {
        const later = this.home.get(need);
        if (later !== undefined) this.wait(later, home);
      }
    }
    for (const body of [...this.out.exact, ...this.glass.waits.exact]) {
      const touching = this.question.problem.connections
        .filter((one) => one.carrying && one.joins.some((part) => body.includes(part)) && this.home.has(one.id))
        .map((one) => one.id);
      for (const id of touching) this.wait(this.home.get(id) ?? id, ...touching);
    }
    // A task of the way back that waits for nothing belongs to the end of the work all the same.
    for (const { id } of back) if ((this.after.get(id)?.size ?? 0) === 0) this.wait(id, ...out.map((step) => step.id));
  }

  /** The last looks, each before whatever takes away the access that its things have longest. */
  private looks(): readonly { readonly closes: string; readonly step: JobStep }[] {
    const { question, sequence, back, glass } = this;
    const turned = new Set(this.drafts.keys());
    return lookSteps(question, sequence, back, glass, turned).map(({ closes, verify, keepsOpen, says, on, off }) => {
      const id = `look:${closes}`;
      const looksAt = verify.map((one) => this.home.get(one) ?? one);
      this.wait(closes, id);
      this.wait(id, ...looksAt);
      for (const one of keepsOpen) this.wait(this.home.get(one) ?? closes, id);
      return { closes, step: { id, phase: "back" as const, says, after: NONE, on, off, looksAt } };
    });
  }

  private states(): readonly JobState[] {
    return [...this.drafts.keys()].flatMap((id): readonly JobState[] => {
      const [set, clear] = [this.drafts.get(id), this.undoing.get(id)];
      if (set === undefined || clear === undefined) return [];
      const out = this.out.of.get(id) ?? this.turnedLater(id);
      const mirrored = this.glass.waits.of.get(id);
      const asked = out ?? mirrored;
      const homes = [...((mirrored ?? out)?.needs ?? [])].flatMap((need) => this.home.get(need) ?? []);
      const on = new Set([...(out?.on ?? []), ...(mirrored?.on ?? [])]);
      const off = new Set([...(out?.off ?? []), ...(mirrored?.off ?? [])]);
      return [
        {
          id,
          set,
          clear,
          after: new Set([...(asked?.needs ?? []), ...(asked?.follows ?? [])]),
          before: new Set(homes),
          on,
          off,
          alike: this.isAlike(id, on, off),
          keeps: this.keepsOf(id),
          handed: [...this.out.handed, ...this.glass.waits.handed].flatMap(([from, to]) => (from === id ? [to] : [])),
        },
      ];
    });
  }

  /** What a state that only the way back sets would wait for on the way out: all of it, where its needs do not hold at the end. */
  private turnedLater(id: string): Wait {
    const { problem } = this.question;
    const { order } = this.sequence;
    const task = problem.tasks.find((one) => one.id === id);
    const asked = restsOn(new Moments(problem, order), { all: task?.needs ?? [] }, order.length);
    const all = order.map(idOf).filter((one) => !this.toggles.has(one));
    return { needs: NONE, follows: new Set(asked?.made ?? all), on: new Set(asked?.on), off: NONE };
  }

  /** Whether the order out undoes a state only where it might set it. */
  private isAlike(id: string, on: ReadonlySet<string>, off: ReadonlySet<string>): boolean {
    const now = new Set<string>();
    for (const step of this.sequence.order) {
      if ("undo" in step && step.undo === id)
        if ([...on].some((one) => !now.has(one)) || [...off].some((one) => now.has(one))) return false;
      if ("do" in step && this.toggles.has(step.do)) now.add(step.do);
      if ("undo" in step) now.delete(step.undo);
    }
    return true;
  }

  private keepsOf(id: string): readonly (readonly [string, string])[] {
    const out = this.out.keeps.filter((keep) => keep.toggle === id);
    const back = this.glass.waits.keeps.filter((keep) => keep.toggle === id);
    const home = (one: string) => this.home.get(one) ?? one;
    const closedOut = out.flatMap(({ from, until }) => (until === undefined ? [] : [[from, until] as const]));
    const closedBack = back.flatMap(({ from, until }) =>
      until === undefined ? [] : [[home(until), home(from)] as const],
    );
    // What holds when the way out ends is what holds when the way back begins.
    const joined = out.flatMap((one) =>
      one.until !== undefined
        ? []
        : back.flatMap((other) => (other.until === undefined ? [[one.from, home(other.from)] as const] : [])),
    );
    const all = [...closedOut, ...closedBack, ...joined];
    return [...new Map(all.map((pair) => [pair.join(" "), pair])).values()];
  }
}

/**
 * The whole job of an answer, with what each step waits for. Undefined where no order of the way back keeps what the file asks of it: then nothing says what may be
 * done side by side.
 */
export const wholeJob = (question: Question, answer: Answer): WholeJob | undefined => {
  const found = sequence(question, answer);
  const back = wayBack(question, found.order, found.verdict);
  if (back.faults.length > 0) return undefined;
  const toggles = new Set(question.problem.tasks.filter((task) => task.toggle).map((task) => task.id));
  const turned = new Set([...found.order.map(idOf), ...back.steps.map(backId)].filter((id) => toggles.has(id)));
  const glass = glassOf(question, found, back, turned);
  const out = found.verdict.legal ? waitsOf(question.problem, found.order, found.verdict.lifts, turned) : undefined;
  return glass === undefined || out === undefined ? undefined : new Builder(question, found, back, glass, out).build();
};
