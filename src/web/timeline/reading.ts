// Owns how the timeline speaks of what is on it: people, places, times and steps by their names, and what holds a step.

import { useMemo } from "preact/hooks";
import type { ChainLink, CrewPlan, Pin } from "../../plan/index.ts";
import { type Figures, useFigures } from "../sheet/figures.ts";
import type { Words } from "../words/said.ts";
import { useWords } from "../words/words.ts";
import { sayMinute } from "./clock.ts";
import type { Doing, Layout } from "./layout.ts";
import { stepName } from "./step-name.ts";

export class Reading {
  readonly words: Words;
  readonly figures: Figures;
  readonly plan: CrewPlan;
  private readonly layout: Layout;
  private readonly names: ReadonlyMap<string, string>;

  constructor(words: Words, figures: Figures, plan: CrewPlan, layout: Layout) {
    this.words = words;
    this.figures = figures;
    this.plan = plan;
    this.layout = layout;
    // "Dora, fitter and rigger" is Dora where there is no other.
    const { people } = plan.crew;
    const short = (label: string) => label.split(",")[0] ?? label;
    this.names = new Map(
      people.map(({ id, label }) => {
        const alike = people.filter((other) => short(other.label) === short(label));
        return [id, alike.length === 1 ? short(label) : label];
      }),
    );
  }

  at(minute: number): string {
    return sayMinute(this.figures, minute, this.plan.crew.begins);
  }

  span(from: number, until: number): string {
    return `${this.at(from)} – ${this.at(until)}`;
  }

  who(id: string): string {
    return this.names.get(id) ?? id;
  }

  whoAll(ids: readonly string[]): string {
    return ids.map((id) => this.who(id)).join(", ");
  }

  where(position: string | undefined): string {
    return position === undefined ? "" : (this.plan.positions.find(({ id }) => id === position)?.label ?? position);
  }

  name(doing: Pick<Doing, "action" | "label">): string {
    return stepName(this.words, doing);
  }

  /** What a run of the chain is made of, by name. */
  run({ steps }: Pick<ChainLink, "steps">): string {
    const named = steps.map(({ id, start, label }) => {
      const doing = this.layout.doings.find((one) => one.id === id && one.start === start);
      return doing === undefined ? label : this.name(doing);
    });
    return named.join("; ");
  }

  /** Of a step that a pin names; its id where the order has none such. */
  pinName(pin: string): string {
    const doing = this.layout.doings.find((one) => one.pin === pin);
    return doing === undefined ? pin : this.name(doing);
  }

  pin(pin: Pin): string {
    const { pins } = this.words.timeline;
    const step = this.pinName(pin.step);
    if ("by" in pin) return pins.by(step, this.who(pin.by));
    return "at" in pin ? pins.at(step, this.at(pin.at)) : pins.from(step, this.at(pin.from));
  }

  /** The one that had to be over before this one could begin. */
  before({ held }: Doing): Doing | undefined {
    if (held?.after === undefined) return undefined;
    // What waits on its own is told with the step that it belongs to; of a state the last change before it.
    return this.layout.doings.findLast(
      ({ id, start }) => (id === held.after || `wait:${id}` === held.after) && start <= held.start,
    );
  }

  /** What holds a step, as a sentence. */
  why(doing: Doing): string {
    const { why } = this.words.timeline;
    const { held, start } = doing;
    if (held === undefined) return "";
    const before = this.before(doing);
    const step = before === undefined ? "" : this.name(before);
    const by = held.by ?? "";
    switch (held.because) {
      case "beginning":
        return start <= this.plan.now ? why.start : why.beginning;
      case "after":
        return why.after(step);
      case "pin":
        return why.pin;
      case "shift":
        return why.shift(this.shortBy(by));
      case "person":
        return why.person(this.shortBy(by), step);
      default:
        return why[held.because](by, step);
    }
  }

  /** What holds a stretch of the chain, in a few words. */
  because({ because, by }: Pick<ChainLink, "because" | "by">): string {
    const said = this.words.timeline.because;
    if (because === "beginning" || because === "after" || because === "pin") return said[because];
    return said[because](because === "person" || because === "shift" ? this.shortBy(by ?? "") : (by ?? ""));
  }

  /** The same in as little as a strip has room for: the name of what binds. */
  binds({ because, by }: Pick<ChainLink, "because" | "by">): string {
    const said = this.words.timeline.because;
    return because === "beginning" || because === "after" || because === "pin" ? said[because] : this.shortBy(by ?? "");
  }

  /** A person comes by the whole label. */
  private shortBy(by: string): string {
    const person = this.plan.crew.people.find(({ label }) => label === by);
    return person === undefined ? by : this.who(person.id);
  }
}

export const useReading = (plan: CrewPlan, layout: Layout): Reading => {
  const words = useWords();
  const figures = useFigures();
  return useMemo(() => new Reading(words, figures, plan, layout), [words, figures, plan, layout]);
};
