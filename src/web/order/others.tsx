// Owns what else could be done while it is out: every other job's labour now, against by itself.

import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { AskedFor } from "./asked-for.tsx";
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
  const minutes = (value: number | undefined) => (value === undefined ? "–" : figures.minutes(value));
  if (vehicle === undefined || order === undefined || vehicle.jobs.length < 2) return null;
  return (
    <AskedFor kind="others" body={{ order }} title={words.order.others} question={words.order.askOthers}>
      {(jobs) => (
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
            {jobs.map(({ job, label, now, alone, proved }) => (
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
    </AskedFor>
  );
};
