// Owns the figures of the schedule: how long it takes, what none gets under, how that sharpens, and what pins cost beside what was before.

import type { CrewPlan } from "../../plan/index.ts";
import type { CrewSaid } from "../engine/crews.ts";
import { type Figures, useFigures } from "../sheet/figures.ts";
import { useWords, type Words } from "../words/words.ts";
import { sayMinute } from "./clock.ts";

export const boundText = (words: Words, figures: Figures, { status, bound, gap }: CrewPlan): string =>
  status === "optimal" ? words.timeline.proved : words.timeline.bound(figures.minutes(bound), figures.percent(gap, 1));

export const ScheduleFigures = ({
  said,
  isBusy,
}: {
  readonly said: CrewSaid & { readonly plan: CrewPlan };
  readonly isBusy: boolean;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { plan, course } = said;
  const { begins } = plan.crew;
  const at = (minute: number) => sayMinute(figures, minute, begins);
  return (
    <div class={isBusy ? "figures busy" : "figures"}>
      <div class="figure">
        <small>{words.timeline.elapsed}</small>
        <b>{figures.minutes(plan.elapsed)}</b>
        <small>{boundText(words, figures, plan)}</small>
      </div>
      <div class="figure">
        <small>{isBusy ? words.timeline.searching : words.timeline.settled}</small>
        <Sharpening course={course} />
      </div>
      <div class="figure">
        <small>{words.timeline.labour}</small>
        <b>{figures.minutes(plan.labour)}</b>
        <small>{words.timeline.walks(plan.moves)}</small>
      </div>
      <div class="figure">
        <small>{words.timeline.crew}</small>
        <b>{words.timeline.people(plan.crew.people.length)}</b>
        <small>{words.timeline.ends(at(plan.now), at(plan.now + plan.elapsed))}</small>
      </div>
    </div>
  );
};

const SIZE = { width: 190, height: 46, pad: 4 };
/** The first tenth of a second takes as much room as from one second to ten: what comes soon is looked at. */
const SOON = 100;

/** The shortest found and what none gets under, as two lines that near one another. */
const Sharpening = ({ course }: Pick<CrewSaid, "course">) => {
  const words = useWords();
  const figures = useFigures();
  const [first, last] = [course[0], course.at(-1)];
  if (first === undefined || last === undefined) return null;
  const most = Math.max(...course.map(({ elapsed }) => elapsed));
  const least = Math.min(...course.map(({ bound, elapsed }) => (bound > 0 ? bound : elapsed)));
  const { width, height, pad } = SIZE;
  const end = Math.log(Math.max(SOON * 2, last.ms) / SOON);
  const x = (ms: number) => pad + (Math.log(Math.max(SOON, ms) / SOON) / end) * (width - 2 * pad);
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

/** What was before the last change of the pins, and what is now. */
export const Cost = ({
  before,
  now,
  isBusy,
  isTrying,
  onHide,
}: {
  readonly before: CrewPlan;
  readonly now: CrewPlan;
  /** The search for the new one goes on. */
  readonly isBusy: boolean;
  /** There is no new one yet. */
  readonly isTrying: boolean;
  readonly onHide: () => void;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { cost } = words.timeline;
  const change = (from: number, to: number) => {
    const by = Math.abs(to - from);
    if (by < 0.05) return cost.same;
    return to > from ? cost.more(figures.minutes(by)) : cost.less(figures.minutes(by));
  };
  return (
    <section class="cost" aria-live="polite" aria-label={cost.title}>
      <table>
        <thead>
          <tr>
            <th scope="col">{cost.title}</th>
            <th scope="col" class="number">
              {cost.before}
            </th>
            <th scope="col" class="number">
              {cost.now}
            </th>
            <th scope="col" />
          </tr>
        </thead>
        <tbody>
          {(["elapsed", "labour"] as const).map((of) => (
            <tr key={of}>
              <th scope="row">{words.timeline[of]}</th>
              <td class="number">{figures.minutes(before[of])}</td>
              <td class="number">{isTrying ? "…" : <b>{figures.minutes(now[of])}</b>}</td>
              <td>{isTrying ? cost.trying : change(before[of], now[of])}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small soft">
        {isTrying ? "" : `${boundText(words, figures, now)}${isBusy ? `; ${cost.soFar}` : ""}. `}
        {cost.outline}{" "}
        <button type="button" class="plain small" onClick={onHide}>
          {cost.hide}
        </button>
      </p>
    </section>
  );
};
