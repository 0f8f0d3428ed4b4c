// Owns the figures of the schedule: how long it takes, what none gets under, how that sharpens, and what pins cost beside what was before.

import type { CrewPlan } from "../../plan/index.ts";
import type { CrewSaid } from "../engine/crews.ts";
import { type Figures, useFigures } from "../sheet/figures.ts";
import type { Words } from "../words/said.ts";
import { useWords } from "../words/words.ts";
import { sayMinute } from "./clock.ts";

const boundText = (words: Words, figures: Figures, { status, bound, gap }: CrewPlan): string =>
  status === "optimal" ? words.timeline.proved : words.timeline.bound(figures.minutes(bound), figures.percent(gap, 1));

/** What was before the last change of the pins, told beside what is now. */
export interface Compared {
  readonly before: CrewPlan;
  /** With the new pins there is no schedule yet, or none at all: what is shown is the one before. */
  readonly isTrying: boolean;
}

interface FiguresProps {
  readonly said: CrewSaid & { readonly plan: CrewPlan };
  readonly isBusy: boolean;
  readonly compared?: Compared;
}

export const ScheduleFigures = ({ said, isBusy, compared }: FiguresProps) => {
  const words = useWords();
  const figures = useFigures();
  const { plan, course } = said;
  const at = (minute: number) => sayMinute(figures, minute, plan.crew.begins);
  const { cost } = words.timeline;
  const change = (of: "elapsed" | "labour") => {
    if (compared === undefined) return null;
    if (compared.isTrying) return <span>{cost.trying}</span>;
    const by = plan[of] - compared.before[of];
    const text =
      Math.abs(by) < 0.05 ? cost.same : by > 0 ? cost.more(figures.minutes(by)) : cost.less(figures.minutes(-by));
    return (
      <span>
        {cost.before(figures.minutes(compared.before[of]))} <strong>{text}</strong>
      </span>
    );
  };
  return (
    <div class={isBusy ? "figures busy" : "figures"}>
      <div class="figure" aria-live="polite">
        <small>{words.timeline.elapsed}</small>
        <b>{figures.minutes(plan.elapsed)}</b>
        {change("elapsed")}
        <small>{boundText(words, figures, plan)}</small>
      </div>
      <div class="figure" aria-live="polite">
        <small>{words.timeline.labour}</small>
        <b>{figures.minutes(plan.labour)}</b>
        {change("labour")}
        <small>{words.timeline.walks(plan.moves)}</small>
      </div>
      <div class="figure">
        <small>{words.timeline.crew}</small>
        <b>{words.timeline.people(plan.crew.people.length)}</b>
        <small>{words.timeline.ends(at(plan.now), at(plan.now + plan.elapsed))}</small>
      </div>
      <div class="figure">
        <small>{isBusy ? words.timeline.searching : words.timeline.settled}</small>
        <Sharpening course={course} />
      </div>
    </div>
  );
};

const SIZE = { width: 190, height: 46, pad: 4 };

/** The shortest found and what none gets under, as two lines that near one another. */
const Sharpening = ({ course }: Pick<CrewSaid, "course">) => {
  const words = useWords();
  const figures = useFigures();
  const [first, last] = [course[0], course.at(-1)];
  if (first === undefined || last === undefined) return null;
  const most = Math.max(...course.map(({ elapsed }) => elapsed));
  const least = Math.min(...course.map(({ bound, elapsed }) => (bound > 0 ? bound : elapsed)));
  const { width, height, pad } = SIZE;
  // Twice the time takes the same room anywhere: what comes soon is looked at.
  const end = Math.log(Math.max(2, last.ms / first.ms));
  const x = (ms: number) => pad + (Math.log(ms / first.ms) / end) * (width - 2 * pad);
  const y = (minutes: number) =>
    pad + ((most - Math.max(least, minutes)) / Math.max(1, most - least)) * (height - 2 * pad);
  const steps = (of: "elapsed" | "bound") =>
    course
      .map((point, place) => `${place === 0 ? "M" : "H"}${x(point.ms)}${place === 0 ? " " : "V"}${y(point[of])}`)
      .join("");
  const after = words.timeline.seconds(figures.number(last.ms / 1000, 1));
  return (
    <>
      <svg
        class="sharpening"
        viewBox={`0 0 ${width} ${height}`}
        width={width}
        height={height}
        role="img"
        aria-label={words.timeline.sharpening}
      >
        <path class="found" d={steps("elapsed")} />
        <path class="below" d={steps("bound")} />
        <circle cx={x(last.ms)} cy={y(last.elapsed)} r="3" />
      </svg>
      <small>{words.timeline.sharpened(figures.minutes(first.elapsed), after)}</small>
    </>
  );
};
