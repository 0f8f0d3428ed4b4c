// Owns what else could be done while it is out: every other job's labour now, against by itself.

import { useState } from "preact/hooks";
import { useFigures } from "../sheet/figures.ts";
import { useAnswer } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { jobsOf, type OrderState } from "./order-state.ts";
import { usePlan } from "./use-plan.ts";

export const Others = ({
  state,
  onTry,
}: {
  readonly state: OrderState;
  readonly onTry: (part: Partial<OrderState>) => void;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { order, vehicle } = usePlan();
  const [isAsked, setAsked] = useState(false);
  const others = useAnswer("others", isAsked && order !== undefined ? { order } : undefined);
  const minutes = (value: number | undefined) => (value === undefined ? "–" : figures.minutes(value));
  if (vehicle === undefined || vehicle.jobs.length < 2) return null;
  return (
    <section aria-labelledby="others">
      <h2 id="others">{words.order.others}</h2>
      {!isAsked ? (
        <button type="button" onClick={() => setAsked(true)}>
          {words.order.askOthers}
        </button>
      ) : others.data === undefined || others.isPlaceholderData ? (
        <p class="busy soft">{words.sheet.computing}</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th>{words.sheet.job}</th>
              <th class="number">{words.order.now}</th>
              <th class="number">{words.order.alone}</th>
              <th>
                <span class="unseen">{words.order.addJob}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {others.data.map(({ job, label, now, alone, proved }) => (
              <tr key={job}>
                <td>{label}</td>
                <td class="number">
                  {proved || now === undefined ? "" : "≈ "}
                  {minutes(now)}
                </td>
                <td class="number">{minutes(alone)}</td>
                <td class="number">
                  {now === undefined ? null : (
                    <button
                      type="button"
                      class="plain"
                      onClick={() => onTry({ jobs: [...jobsOf(state, vehicle), job] })}
                    >
                      {words.order.addJob}
                      <span class="unseen"> {label}</span>
                    </button>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
};
