// Owns the curve drawn: how long the order takes with one person, two, three, from the bound below to what was found; and the same as a table.

import { scaleLinear, scalePoint } from "d3-scale";
import type { CurveSaid } from "../engine/crews.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";

const WIDE = { width: 440, height: 240, left: 62, right: 16, top: 14, bottom: 38 };

/** Hours of the axis: whole ones, so many that some five stand there. */
const stepOf = (minutes: number): number => [15, 30, 60, 120, 240, 480, 1440].find((one) => minutes / one <= 5) ?? 2880;

export const Curve = ({ said, upTo = 4 }: { readonly said: CurveSaid; readonly upTo?: number }) => {
  const words = useWords();
  const figures = useFigures();
  const { points, knee } = said;
  const most = Math.max(60, ...points.map(({ elapsed }) => elapsed ?? 0));
  const { width, height, left, right, top, bottom } = WIDE;
  const people = Array.from({ length: Math.max(upTo, points.length) }, (_, index) => index + 1);
  const x = scalePoint(people, [left, width - right]).padding(0.5);
  const every = stepOf(most);
  const y = scaleLinear([0, Math.ceil(most / every) * every], [height - bottom, top]);
  const at = (count: number) => x(count) ?? left;
  const found = points.flatMap(({ people: count, elapsed }) =>
    elapsed === undefined ? [] : [`${at(count)},${y(elapsed)}`],
  );
  const ticks = Array.from({ length: Math.floor((y.domain()[1] ?? 0) / every) + 1 }, (_, index) => index * every);
  return (
    <figure class="crew-curve">
      <svg viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
        {ticks.map((tick) => (
          <g key={tick}>
            <path class="grid" d={`M${left} ${y(tick)}H${width - right}`} />
            <text x={left - 8} y={y(tick) + 4} text-anchor="end">
              {figures.minutes(tick)}
            </text>
          </g>
        ))}
        <polyline class="found" points={found.join(" ")} />
        {points.map(({ people: count, elapsed, bound }) =>
          elapsed === undefined ? (
            <text key={count} x={at(count)} y={y(0) - 8} text-anchor="middle" class="cannot">
              {words.timeline.curve.cannot}
            </text>
          ) : (
            <g key={count}>
              <path class="open" d={`M${at(count)} ${y(elapsed)}V${y(bound ?? 0)}`} />
              <path class="bound" d={`M${at(count) - 9} ${y(bound ?? 0)}h18`} />
              <circle cx={at(count)} cy={y(elapsed)} r={count === knee ? 6 : 4} class={count === knee ? "knee" : ""} />
            </g>
          ),
        )}
        {people.map((count) => (
          <text key={count} x={at(count)} y={height - bottom + 20} text-anchor="middle">
            {count}
          </text>
        ))}
        <text x={width - right} y={height - 4} text-anchor="end" class="axis">
          {words.timeline.curve.people}
        </text>
      </svg>
      <figcaption>
        {words.timeline.curve.reads}
        {knee === undefined ? "" : ` ${words.timeline.curve.knee(knee)}`}
      </figcaption>
      <table class={said.isLast ? "" : "busy"}>
        <thead>
          <tr>
            <th scope="col">{words.timeline.curve.people}</th>
            <th scope="col" class="number">
              {words.timeline.elapsed}
            </th>
            <th scope="col" class="number">
              {words.timeline.curve.bound}
            </th>
            <th scope="col" class="number">
              {words.timeline.labour}
            </th>
          </tr>
        </thead>
        <tbody>
          {points.map(({ people: count, elapsed, bound, labour, why }) => (
            <tr key={count}>
              <th scope="row">{count}</th>
              {elapsed === undefined ? (
                <td colSpan={3}>{why ?? words.timeline.curve.cannot}</td>
              ) : (
                <>
                  <td class="number">{figures.minutes(elapsed)}</td>
                  <td class="number">
                    {bound === elapsed ? words.timeline.curve.proved : figures.minutes(bound ?? 0)}
                  </td>
                  <td class="number">{labour === undefined ? "" : figures.minutes(labour)}</td>
                </>
              )}
            </tr>
          ))}
        </tbody>
      </table>
      {said.spares.map(({ tool, count, elapsed, taken }) => (
        <p key={tool} class="small">
          {taken
            ? words.timeline.curve.spare(tool, count, figures.minutes(elapsed))
            : words.timeline.curve.noSpare(tool)}
        </p>
      ))}
    </figure>
  );
};
