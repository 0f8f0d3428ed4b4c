// Owns what a finish waits for and what is worth knowing of it, each step a line.

import { scaleLinear } from "d3-scale";
import type { Finish } from "../../plan/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { Help } from "./help.tsx";
import { stepName } from "./step-name.ts";

/** Steps that the finish waits for which are shown. */
const SHOWN = 8;

/** A line from nothing to a value, with what it may be out by. */
const Line = ({ value, error, most }: { readonly value: number; readonly error?: number; readonly most: number }) => {
  const x = scaleLinear([0, most], [1, 99]).clamp(true);
  return (
    <svg class="line" viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true">
      <path class="base" d="M1 6H99" />
      <path class="value" d={`M1 6H${x(value)}`} />
      {error === undefined ? null : <path class="error" d={`M${x(value - error)} 6H${x(value + error)}`} />}
      <path class="end" d={`M${x(value)} 1V11`} />
    </svg>
  );
};

export const Waits = ({
  finish,
  isLast,
}: {
  readonly finish: Finish;
  /** What is worth knowing is known. */
  readonly isLast: boolean;
}) => {
  const words = useWords();
  const figures = useFigures();
  const critical = finish.critical.filter(({ minutes }) => minutes > 0).slice(0, SHOWN);
  const { late } = finish;
  const worth = finish.worth.filter(({ value, error }) => value > 2 * error);
  const longest = Math.max(...critical.map(({ criticality, minutes }) => criticality * minutes), 1);
  const dearest = Math.max(...worth.map(({ value, error }) => value + error), 1);
  return (
    <div class="waits">
      <section aria-labelledby="worth">
        <h2 id="worth">{words.times.worth}</h2>
        {!isLast ? (
          <p class="soft">{words.times.weighing}</p>
        ) : worth.length === 0 ? (
          <p class="soft">{words.times.worthNone}</p>
        ) : (
          <>
            <p class="small soft">{words.times.worthLead}</p>
            <ul class="lines">
              {worth.map(({ id, label, value, error }) => (
                <li key={id}>
                  <span>{stepName(label, words.times)}</span>
                  <Line value={value} error={error} most={dearest} />
                  <span class="number">
                    {figures.number(value, 1)} ± {figures.number(error, 1)} min
                  </span>
                </li>
              ))}
            </ul>
          </>
        )}
        <Help title={words.times.helpWorth}>{words.times.helpWorthText}</Help>
        {late.length === 0 ? null : (
          <>
            <h2>{words.times.late}</h2>
            <p class="small soft">{words.times.lateLead}</p>
            <ul class="lines">
              {late.map(({ id, label, share }) => (
                <li key={id}>
                  <span>{stepName(label, words.times)}</span>
                  <Line value={share} most={1} />
                  <span class="number">{figures.percent(share, 1)}</span>
                </li>
              ))}
            </ul>
          </>
        )}
      </section>
      <section aria-labelledby="critical">
        <h2 id="critical">{words.times.critical}</h2>
        <p class="small soft">{words.times.criticalLead}</p>
        <ul class="lines">
          {critical.map(({ id, label, criticality, minutes }) => (
            <li key={id}>
              <span>{stepName(label, words.times)}</span>
              <Line value={criticality * minutes} most={longest} />
              <span class="number">
                {words.times.criticalOf(figures.minutes(minutes), figures.percent(criticality))}
              </span>
            </li>
          ))}
        </ul>
      </section>
    </div>
  );
};
