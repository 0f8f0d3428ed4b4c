// Owns the standards' figures over all jobs: the mean time to repair and its percentiles, each job a line from its median to its 95th percentile.

import { scaleLinear } from "d3-scale";
import { useMemo } from "preact/hooks";
import type { StandardFiguresOf } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import type { FiguresAsked, Taught } from "../engine/times-asked.ts";
import { type Form, NOTHING_SAID, oftenOf } from "../improve/form.ts";
import { useOrderState } from "../order/order-state.ts";
import { useFigures } from "../sheet/figures.ts";
import { Failed } from "../sheet/states.tsx";
import { useTyped } from "../sheet/typed.ts";
import { Stopped, useLasting } from "../shop/lasting.ts";
import { useModel } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { Help } from "./help.tsx";
import { MarksHead } from "./marks-head.tsx";
import { useWidth } from "./use-width.ts";

const ROW = 24;

export const AllJobsSection = ({
  vehicle,
  taught,
}: {
  readonly vehicle: Vehicle;
  readonly taught: Taught | undefined;
}) => {
  const words = useWords();
  const { base } = useModel();
  const name = `${base.from}/${base.id}`;
  const [{ crew }] = useOrderState();
  const [form] = useTyped<Form>(`improve asked ${name}`, NOTHING_SAID);
  const [isAsked, setAsked] = useTyped(`all jobs asked ${name}`, false);
  const often = useMemo(() => oftenOf(form, vehicle), [form, vehicle]);
  const body = useMemo(
    (): FiguresAsked | undefined =>
      isAsked ? { ...often, ...(crew === undefined ? {} : { crew }), taught: taught ?? {} } : undefined,
    [isAsked, often, crew, taught],
  );
  const answer = useLasting("figures", body);
  const { data, error, isComputing } = answer;
  return (
    <section class="all-jobs" aria-labelledby="all-jobs">
      <h2 id="all-jobs">{words.times.all}</h2>
      <p class="soft">{words.times.allLead}</p>
      <p class="small soft">{often.weighed ? words.times.allWeighed : words.times.allAlike}</p>
      {isComputing ? (
        <div class="doing busy">
          <p role="status">
            {data?.at === undefined || data.of === undefined
              ? words.times.allBeginning
              : words.times.allPlanning(data.at, data.of)}
          </p>
          <button type="button" onClick={answer.stop}>
            {words.sheet.cancel}
          </button>
        </div>
      ) : !isAsked || error instanceof Stopped || answer.isStopped ? (
        <button type="button" onClick={() => (isAsked ? answer.again() : setAsked(true))}>
          {words.times.allReckon}
        </button>
      ) : error !== null ? (
        <Failed error={error} again={answer.again} />
      ) : null}
      {data?.figures === undefined || !isAsked ? null : <Drawn figures={data.figures} />}
      <Help title={words.times.helpAll}>{words.times.helpAllText}</Help>
    </section>
  );
};

interface Row {
  readonly id: string;
  readonly label: string;
  readonly mean: number;
  readonly median: number;
  readonly p95: number;
}

const Drawn = ({ figures: found }: { readonly figures: StandardFiguresOf }) => {
  const words = useWords();
  const figures = useFigures();
  const { place, width } = useWidth(420);
  const { repair } = found;
  const rows = found.jobs.flatMap(({ id, label, mean, p50, p95 }): readonly Row[] =>
    mean === undefined || p50 === undefined || p95 === undefined
      ? []
      : [{ id, label, mean, median: p50.value, p95: p95.value }],
  );
  const lacking = found.jobs.filter(({ status }) => status !== "reckoned");
  const x = scaleLinear([0, Math.max(1, ...rows.map(({ p95 }) => p95))], [4, width - 4]);
  const figure = (label: string, { value, error }: { readonly value: number; readonly error: number }) => (
    <div class="figure">
      <small>{label}</small>
      <b>{figures.minutes(value)}</b>
      <small>± {figures.number(error, 1)} min</small>
    </div>
  );
  return (
    <>
      {repair === undefined ? null : (
        <>
          <h3>{words.times.repair}</h3>
          <div class="finish-figures">
            {figure(words.times.mean, repair.mean)}
            {figure(words.times.middle, repair.median)}
            {figure("90 %", repair.p90)}
            {figure(words.times.p95, repair.p95)}
          </div>
        </>
      )}
      <table class="span-list">
        <thead>
          <tr>
            <th scope="col">{words.sheet.job}</th>
            <MarksHead names={[words.times.middle, words.times.p95]} x={x} width={width} place={place} />
            <th scope="col" class="number">
              {words.times.mean}
            </th>
            <th scope="col" class="number">
              {words.times.middle}
            </th>
            <th scope="col" class="number">
              {words.times.p95}
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ id, label, mean, median, p95 }) => (
            <tr key={id}>
              <th scope="row">{label}</th>
              <td class="marks">
                <svg width={width} height={ROW} aria-hidden="true">
                  <g class="interval known">
                    <path d={`M${x(median)} ${ROW / 2}H${x(p95)}`} />
                    <circle cx={x(median)} cy={ROW / 2} r={3} />
                    <path d={`M${x(p95)} ${ROW / 2 - 4}v8`} />
                  </g>
                </svg>
              </td>
              <td class="number">{figures.minutes(mean)}</td>
              <td class="number">{figures.minutes(median)}</td>
              <td class="number">{figures.minutes(p95)}</td>
            </tr>
          ))}
          {lacking.map(({ id, label }) => (
            <tr key={id}>
              <th scope="row">{label}</th>
              <td class="soft" colSpan={4}>
                {words.times.noPlan}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
};
