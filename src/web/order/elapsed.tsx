// Owns how long the order takes with its crew, as it sharpens.

import { useFigures } from "../sheet/figures.ts";
import { useCrew } from "../timeline/use-crew.ts";
import { useWords } from "../words/words.ts";

export const Elapsed = () => {
  const words = useWords();
  const figures = useFigures();
  const crew = useCrew();
  const { data } = crew;
  const plan = crew.isPlaceholderData ? undefined : data?.plan;
  return (
    <div class={crew.isFetching ? "figure busy" : "figure"} aria-live="polite">
      <small>{words.order.elapsed}</small>
      <b>{plan === undefined ? "–" : figures.minutes(plan.elapsed)}</b>
      <small>
        {plan === undefined
          ? crew.isFetching
            ? words.sheet.computing
            : data !== undefined && data.lacks.length > 0
              ? data.lacks.map(({ what }) => what).join("; ")
              : words.order.noSchedule
          : [
              words.order.people(plan.crew.people.length),
              plan.status === "optimal"
                ? words.order.provedLeast
                : words.order.elapsedBound(figures.minutes(plan.bound), figures.percent(plan.gap, 1)),
            ].join("; ")}
      </small>
    </div>
  );
};
