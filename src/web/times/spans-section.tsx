// Owns the list of what each connection takes to release and to refit, with its spread: searched, sorted, each a line.

import { type ScaleLinear, scaleLinear } from "d3-scale";
import { useMemo, useState } from "preact/hooks";
import type { Vehicle } from "../../vehicle/index.ts";
import type { Taught } from "../engine/times-asked.ts";
import { useFigures } from "../sheet/figures.ts";
import { useTyped } from "../sheet/typed.ts";
import { useModel } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { Help } from "./help.tsx";
import { Interval } from "./interval.tsx";
import { MarksHead } from "./marks-head.tsx";
import { middleOf, rangeOf, type Span, spansOf, type Timed } from "./spans.ts";
import { useWidth } from "./use-width.ts";

const SORTS = ["spread", "labour", "name"] as const;
type Sort = (typeof SORTS)[number];
/** Lines that are shown before somebody asks for all. */
const SHOWN = 25;
const ROW = 40;

const sorted = (spans: readonly Span[], sort: Sort): readonly Span[] =>
  spans.toSorted((a, b) =>
    sort === "name" ? a.label.localeCompare(b.label) : sort === "labour" ? b.labour - a.labour : b.spread - a.spread,
  );

export const SpansSection = ({
  vehicle,
  taught,
}: {
  readonly vehicle: Vehicle;
  readonly taught: Taught | undefined;
}) => {
  const words = useWords();
  const { base } = useModel();
  const [find, setFind] = useTyped(`find time ${base.from}/${base.id}`, "");
  const [sort, setSort] = useTyped<Sort>("sort times", "spread");
  const [isAll, setAll] = useState(false);
  const { place, width } = useWidth(420);
  const spans = useMemo(() => spansOf(vehicle, taught), [vehicle, taught]);
  const wanted = find.trim().toLocaleLowerCase();
  const found = sorted(
    spans.filter(({ label, called, connection, kind }) =>
      [label, called ?? "", connection, words.kinds[kind]].some((one) => one.toLocaleLowerCase().includes(wanted)),
    ),
    sort,
  );
  const shown = isAll ? found : found.slice(0, SHOWN);
  const most = Math.max(1, ...spans.flatMap(({ off, on }) => [off, on]).map(({ time }) => rangeOf(time)[1]));
  const x = scaleLinear([0, most], [4, width - 4]).clamp(true);
  return (
    <section class="spans" aria-labelledby="spans">
      <h2 id="spans">{words.times.spans}</h2>
      {spans.length === 0 ? (
        <p class="soft">{words.times.noConnections}</p>
      ) : (
        <>
          <p class="small soft">{words.times.spansLead}</p>
          <div class="tools">
            <label class="field">
              <span>{words.times.find}</span>
              <input type="search" value={find} onInput={({ currentTarget }) => setFind(currentTarget.value)} />
            </label>
            <label class="field">
              <span>{words.times.sort}</span>
              <select value={sort} onChange={({ currentTarget }) => setSort(currentTarget.value as Sort)}>
                {SORTS.map((one) => (
                  <option key={one} value={one}>
                    {words.times.sorts[one]}
                  </option>
                ))}
              </select>
            </label>
            <p class="small soft" role="status">
              {found.length === 0 ? words.times.nothingFound : words.times.found(shown.length, found.length)}
            </p>
          </div>
          <Key />
          <table class="span-list">
            <thead>
              <tr>
                <th scope="col">{words.times.connection}</th>
                <MarksHead names={[words.times.release, words.times.refit]} x={x} width={width} place={place} />
                <th scope="col">
                  {words.times.release}, {words.times.refit}
                </th>
                <th scope="col" class="number">
                  {words.times.labour}
                </th>
              </tr>
            </thead>
            <tbody>
              {shown.map((span) => (
                <Row key={span.way} span={span} x={x} width={width} />
              ))}
            </tbody>
          </table>
          {found.length > shown.length ? (
            <button type="button" onClick={() => setAll(true)}>
              {words.times.showAll(found.length)}
            </button>
          ) : null}
        </>
      )}
      <Help title={words.times.helpSpread}>{words.times.helpSpreadText}</Help>
    </section>
  );
};

const kindOf = ({ from }: Timed) => (from === "runs" ? "taught" : from === "file" ? "known" : "assumed");

const Row = ({
  span,
  x,
  width,
}: {
  readonly span: Span;
  readonly x: ScaleLinear<number, number>;
  readonly width: number;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { label, called, kind, off, on, labour } = span;
  return (
    <tr>
      <th scope="row">
        {label}
        <small class="soft">
          {words.kinds[kind]}
          {called === undefined ? "" : `, ${called}`}
        </small>
        <Source {...span} />
      </th>
      <td class="marks">
        <svg width={width} height={ROW} aria-hidden="true">
          {[off, on].map((timed, index) => {
            const y = ROW * (index === 0 ? 0.3 : 0.7);
            return (
              <g key={index === 0 ? "off" : "on"}>
                <Interval time={timed.time} x={x} y={y} kind={kindOf(timed)} />
                {timed.guess === undefined ? null : (
                  <path class="guess" d={`M${x(middleOf(timed.guess))} ${y - 5}v10`} />
                )}
              </g>
            );
          })}
        </svg>
      </td>
      <td class="said">
        <Said timed={off} name={words.times.off} />
        <Said timed={on} name={words.times.on} />
      </td>
      <td class="number">{figures.minutes(labour)}</td>
    </tr>
  );
};

const Said = ({ timed, name }: { readonly timed: Timed; readonly name: string }) => {
  const words = useWords();
  const figures = useFigures();
  const { time, from } = timed;
  const [low, high] = rangeOf(time);
  const minutes = (value: number) => figures.number(value, value < 10 ? 1 : 0);
  return (
    <div>
      <small class="soft">{name}</small> {from === "release" || from === "guess" ? "≈ " : ""}
      {words.times.range(figures.minutes(middleOf(time)), minutes(low), minutes(high))}
    </div>
  );
};

/** Where the figures of a way come from: what is not simply the file's, and what the catalogue would guess. */
const Source = ({ off, on }: Span) => {
  const words = useWords();
  const figures = useFigures();
  const minutes = (timed: Timed) =>
    timed.guess === undefined ? "–" : figures.number(middleOf(timed.guess), middleOf(timed.guess) < 10 ? 1 : 0);
  const sources = [
    ...(off.from === on.from
      ? off.from === "file"
        ? []
        : [words.times.froms[off.from]]
      : [`${words.times.off}: ${words.times.froms[off.from]}`, `${words.times.on}: ${words.times.froms[on.from]}`]),
    ...(off.guess === undefined && on.guess === undefined ? [] : [words.times.catalogue(minutes(off), minutes(on))]),
  ];
  return sources.length === 0 ? null : <small class="soft">{sources.join("; ")}</small>;
};

/** What the marks are. */
const Key = () => {
  const words = useWords();
  const minutes = (value: number) => value * 4;
  const time = { centre: Math.log(6), spread: 0.3 };
  return (
    <ul class="key small soft" aria-hidden="true">
      {(
        [
          ["known", words.times.key.file],
          ["assumed", words.times.key.assumed],
          ["taught", words.times.key.runs],
        ] as const
      ).map(([kind, says]) => (
        <li key={kind}>
          <svg width={48} height={12} aria-hidden="true">
            <Interval time={time} x={minutes} y={6} kind={kind} />
          </svg>
          {says}
        </li>
      ))}
      <li>
        <svg width={12} height={12} aria-hidden="true">
          <path class="guess" d="M6 1v10" />
        </svg>
        {words.times.key.guess}
      </li>
    </ul>
  );
};
