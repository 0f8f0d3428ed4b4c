// Owns what the design costs as it is: the labour of all jobs as often as they come, what it goes to, the jobs themselves, and changes that are worth more together.

import { scaleLinear } from "d3-scale";
import type { Improved } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { sayChange } from "./change-words.ts";

export const Costs = ({
  improved,
  vehicle,
  isUntried = false,
}: {
  readonly improved: Improved;
  readonly vehicle: Vehicle;
  /** No change was tried yet. */
  readonly isUntried?: boolean;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { cost, jobs, weighed } = improved;
  const changes = new Map(improved.changes.map((one) => [one.id, one]));
  const called = (id: string, label: string) => {
    const change = changes.get(id);
    if (change === undefined) return label;
    const { rule, of } = sayChange(change, vehicle, words.improve, figures);
    return of === "" ? rule : `${of} (${rule})`;
  };
  const x = scaleLinear([0, Math.max(...cost.steps.map(({ share }) => share), 0.01)], [1, 99]);
  const labour = figures.minutes(cost.labour);
  const period = weighed ? words.improve.costYear : words.improve.costEach;
  return (
    <>
      {isUntried ? null : <Pairs improved={improved} called={called} />}
      <section aria-labelledby="cost">
        <h2 id="cost">{words.improve.cost}</h2>
        <p>{words.improve.costOf(labour, period, cost.money === undefined ? "" : figures.number(cost.money))}</p>
        <ul class="lines">
          {cost.steps.map(({ id, label, labour: own, share }) => (
            <li key={id}>
              <span>{label}</span>
              <svg class="line" viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true">
                <path class="base" d="M1 6H99" />
                <path class="value" d={`M1 6H${x(share)}`} />
              </svg>
              <span class="number">
                {figures.minutes(own)} <small class="soft">{figures.percent(share, 1)}</small>
              </span>
            </li>
          ))}
        </ul>
      </section>
      <section aria-labelledby="bases">
        <h2 id="bases">{words.improve.bases}</h2>
        <table>
          <thead>
            <tr>
              <th scope="col">{words.improve.job}</th>
              <th scope="col" class="number">
                {words.improve.labour}
              </th>
              <th scope="col" class="number">
                {words.improve.elapsed}
              </th>
              <th scope="col" class="number">
                {words.improve.p95}
              </th>
            </tr>
          </thead>
          <tbody>
            {jobs.map(({ id, label, weight, status, labour: own, elapsed, p95 }) => (
              <tr key={id}>
                <th scope="row">
                  {label}
                  {weighed ? <small class="soft"> × {figures.number(weight, 1)}</small> : null}
                </th>
                {status === "reckoned" ? (
                  [own, elapsed, p95].map((value, index) => (
                    <td key={["labour", "elapsed", "p95"][index]} class="number">
                      {figures.minutes(value ?? 0)}
                    </td>
                  ))
                ) : (
                  <td colSpan={3} class="soft">
                    {status === "no plan" ? words.improve.noPlan : words.improve.notReckoned}
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </>
  );
};

/** Two changes that spare more together than each alone. */
const Pairs = ({
  improved,
  called,
}: {
  readonly improved: Improved;
  readonly called: (id: string, label: string) => string;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { pairs } = improved;
  return (
    <section aria-labelledby="pairs">
      <h2 id="pairs">{words.improve.pairs}</h2>
      {pairs.length === 0 ? (
        <p class="small soft">{words.improve.noPairs}</p>
      ) : (
        <>
          <p class="small soft">{words.improve.pairsLead}</p>
          <ul class="pairs">
            {pairs.map(({ both, labels, labour: spared, elapsed }) => (
              <li key={both.join(" ")}>
                <span>
                  {called(both[0], labels[0])} + {called(both[1], labels[1])}
                </span>
                <span class="number">
                  {words.improve.labour} {figures.number(spared, 1)} min, {words.improve.elapsed}{" "}
                  {figures.number(elapsed, 1)} min
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
};
