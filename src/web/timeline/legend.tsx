// Owns the patterns by which a bar tells where somebody works, and the legend of them: never a colour alone.

import type { CrewPlan } from "../../plan/index.ts";
import { useWords } from "../words/words.ts";

/** As many as the style sheet has. */
const PATTERNS = 10;

/** The class of a position's pattern, the same wherever the schedule is drawn. */
export const patternOf = ({ positions }: Pick<CrewPlan, "positions">): ((position: string | undefined) => string) => {
  const places = new Map(positions.map(({ id }, place) => [id, place % PATTERNS]));
  return (position) => (position === undefined ? "at-any" : `at-${places.get(position) ?? 0}`);
};

export const Legend = ({ plan, hasEarlier }: { readonly plan: CrewPlan; readonly hasEarlier: boolean }) => {
  const words = useWords();
  const pattern = patternOf(plan);
  const isAnywhere = [...plan.steps, ...plan.changes].some(
    ({ position, people }) => position === undefined && people.length > 0,
  );
  return (
    <ul class="when-legend" aria-label={words.timeline.legend}>
      {plan.positions.map(({ id, label }) => (
        <li key={id}>
          <i class={`swatch ${pattern(id)}`} />
          {label}
        </li>
      ))}
      {isAnywhere ? (
        <li>
          <i class="swatch at-any" />
          {words.timeline.anywhere}
        </li>
      ) : null}
      <li>
        <i class="swatch line" />
        {words.timeline.chain}
      </li>
      {hasEarlier ? (
        <li>
          <i class="swatch before" />
          {words.timeline.earlier}
        </li>
      ) : null}
    </ul>
  );
};
