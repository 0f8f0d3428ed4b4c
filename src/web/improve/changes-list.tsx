// Owns the ranked changes: each a line from a mean repair now to then, opened for why it was tried, on which jobs it does something and how that is known.

import { type ScaleLinear, scaleLinear } from "d3-scale";
import { useState } from "preact/hooks";
import type { Improved, ImprovedChange, Ranking } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { MinuteAxis } from "../times/minute-axis.tsx";
import { useWidth } from "../times/use-width.ts";
import { useWords } from "../words/words.ts";
import { sayChange } from "./change-words.ts";
import { Dumbbell } from "./dumbbell.tsx";
import { impossibleIn, type Ranked, sparedBy } from "./ranking.ts";
import { Wide } from "./wide.tsx";

const ROW = 22;
/** Lines that are shown before somebody asks for all. */
const SHOWN = 15;
/** Of the axis kept free on the side of the best change. */
const MARGIN = 0.06;

export const ChangesList = ({
  improved,
  ranked,
  by,
  rate,
  vehicle,
}: {
  readonly improved: Improved;
  readonly ranked: Ranked;
  readonly by: Ranking;
  readonly rate: number | undefined;
  readonly vehicle: Vehicle;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { place, width } = useWidth(420);
  const [isAll, setAll] = useState(false);
  const shown = isAll ? ranked.changes : ranked.changes.slice(0, SHOWN);
  const now = improved.mean[by];
  const spared = ranked.changes.map((change) => sparedBy(change, by));
  const [most, least] = [Math.max(1, ...spared), Math.min(0, ...spared)];
  const span = most - least;
  const x = scaleLinear([now - most - span * MARGIN, now - least + span * MARGIN], [4, width - 4]).clamp(true);
  return (
    <div class="changes">
      <div class="change-head small soft">
        <span>{words.improve.meanNow(figures.minutes(now))}</span>
        <div ref={place}>
          <MinuteAxis x={x} width={width} />
        </div>
        <span class="number">{words.improve.spared}</span>
      </div>
      <ol>
        {shown.map((change) => (
          <Line
            key={change.id}
            change={change}
            improved={improved}
            by={by}
            rate={rate}
            vehicle={vehicle}
            x={x}
            width={width}
            now={now}
          />
        ))}
      </ol>
      {shown.length < ranked.changes.length ? (
        <button type="button" onClick={() => setAll(true)}>
          {words.times.showAll(ranked.changes.length)}
        </button>
      ) : null}
      <p class="small soft">{words.improve.drawn}</p>
    </div>
  );
};

const Line = ({
  change,
  improved,
  by,
  rate,
  vehicle,
  x,
  width,
  now,
}: {
  readonly change: ImprovedChange;
  readonly improved: Improved;
  readonly by: Ranking;
  readonly rate: number | undefined;
  readonly vehicle: Vehicle;
  readonly x: ScaleLinear<number, number>;
  readonly width: number;
  readonly now: number;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { rule, of, why } = sayChange(change, vehicle, words.improve, figures);
  const saved = sparedBy(change, by);
  const impossible = impossibleIn(change);
  const anew = change.jobs.filter(({ how }) => how === "anew").length;
  const reckoned = improved.jobs.filter(({ status }) => status === "reckoned").length;
  const weight = improved.jobs.reduce((sum, job) => sum + (job.status === "reckoned" ? job.weight : 0), 0);
  const error = by === "p95" ? ` ± ${figures.number(change.p95.error, 1)}` : "";
  return (
    <li>
      <details>
        <summary>
          <span class="change-name">
            <b>{of === "" ? rule : of}</b>
            <small class="soft">
              {of === "" ? "" : `${rule}, `}
              {words.improve.jobs(change.jobs.length, reckoned)},{" "}
              {anew === 0 ? words.improve.proved : words.improve.anew(anew)}
              {impossible === 0 ? "" : `; ${words.improve.impossible(impossible)}`}
              {change.years === undefined ? "" : `; ${words.improve.years(figures.number(change.years, 1))}`}
            </small>
          </span>
          <svg width={width} height={ROW} aria-hidden="true">
            <path class="now" d={`M${x(now)} 0V${ROW}`} />
            <Dumbbell now={now} then={now - saved} x={x} height={ROW} />
          </svg>
          <span class="number">
            {figures.number(saved, 1)}
            {error} min
          </span>
        </summary>
        <div class="change-more">
          <p>{why}</p>
          {rate === undefined || !improved.weighed ? null : (
            <p class="small">
              {words.improve.labour}: {words.improve.yearly(figures.number((change.labour / 60) * rate * weight))}
            </p>
          )}
          <Wide label={words.improve.bases}>
            <JobsOf change={change} improved={improved} />
          </Wide>
        </div>
      </details>
    </li>
  );
};

/** What a change does on each job it touches. */
const JobsOf = ({ change, improved }: { readonly change: ImprovedChange; readonly improved: Improved }) => {
  const words = useWords();
  const figures = useFigures();
  const now = new Map(improved.jobs.map((job) => [job.id, job]));
  const moved = (before: number | undefined, spared: number) =>
    before === undefined
      ? "–"
      : Math.abs(spared) < 0.05
        ? figures.minutes(before)
        : `${figures.minutes(before)} → ${figures.minutes(before - spared)}`;
  return (
    <table class="change-jobs">
      <thead>
        <tr>
          <th scope="col">{words.improve.job}</th>
          <th scope="col">{words.improve.labour}</th>
          <th scope="col">{words.improve.elapsed}</th>
          <th scope="col">{words.improve.p95}</th>
          <th scope="col">{words.improve.how}</th>
        </tr>
      </thead>
      <tbody>
        {change.jobs.map(({ id, how, labour, elapsed, p95 }) => {
          const job = now.get(id);
          const isPossible = how !== "impossible";
          return (
            <tr key={id}>
              <th scope="row">{job?.label ?? id}</th>
              <td>{isPossible ? moved(job?.labour, labour) : "–"}</td>
              <td>{isPossible ? moved(job?.elapsed, elapsed) : "–"}</td>
              <td>{isPossible ? `${moved(job?.p95, p95.value)} ± ${figures.number(p95.error, 1)}` : "–"}</td>
              <td class="soft">{words.improve.hows[how]}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
};
