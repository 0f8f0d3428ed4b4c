// Owns the drawing of a finish: a dot for each of a hundred runs over the time it was done, with percentiles, plan and promise as lines.

import { scaleLinear } from "d3-scale";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { chanceWithin, type Dot, dotsOf, timeTicks } from "./chances.ts";
import { useWidth } from "./use-width.ts";

const DOTS = 100;
const SIDE = 14;
const HEAD = 50;
const FOOT = 46;
/** Pixels of a dot's column, narrow and wide. */
const COLUMN = [9, 24] as const;
/** Columns that the finishes are spread over, where there is the room. */
const COLUMNS = 42;
const MARKED = [0.1, 0.5, 0.8, 0.95] as const;
/** A label of the axis takes so many pixels. */
const LABEL = 76;

const at = (quantiles: readonly number[], share: number): number =>
  quantiles[Math.round(share * (quantiles.length - 1))] ?? 0;

/** The outline of heaps of dots, from the first column to the last. */
const outline = (
  dots: readonly Dot[],
  width: number,
  x: (minutes: number) => number,
  y: (height: number) => number,
): string => {
  const heights = new Map<number, number>();
  for (const { column } of dots) {
    const at = Math.round(column / width - 0.5);
    heights.set(at, (heights.get(at) ?? 0) + 1);
  }
  const [from, to] = [Math.min(...heights.keys()), Math.max(...heights.keys())];
  const steps = Array.from({ length: to - from + 1 }, (_, index) => {
    const at = from + index;
    return `V${y(heights.get(at) ?? 0)}H${x((at + 1) * width)}`;
  });
  return `M${x(from * width)} ${y(0)}${steps.join("")}V${y(0)}`;
};

export const FinishDrawing = ({
  quantiles,
  beside,
  planned,
  by,
  begins,
}: {
  readonly quantiles: readonly number[];
  /** Other finishes to compare with: their outline. */
  readonly beside?: readonly number[];
  readonly planned: number;
  readonly by?: number;
  readonly begins: number;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { place, width } = useWidth(900);
  const [from, to] = [
    Math.min(planned, at(quantiles, 0.001), ...(beside === undefined ? [] : [at(beside, 0.001)])),
    Math.max(planned, at(quantiles, 0.999), ...(beside === undefined ? [] : [at(beside, 0.999)])),
  ];
  const room = width - 2 * SIDE;
  const column = Math.max(COLUMN[0], Math.min(COLUMN[1], room / COLUMNS));
  const minutes = Math.max((to - from) / Math.floor(room / column), 1e-6);
  const x = scaleLinear([from, to], [SIDE, width - SIDE]).clamp(true);
  const dots = dotsOf(quantiles, DOTS, minutes);
  const other = beside === undefined ? [] : dotsOf(beside, DOTS, minutes);
  const rows = Math.max(...[...dots, ...other].map(({ row }) => row + 1), 6);
  const size = x(from + minutes) - x(from);
  const foot = HEAD + rows * size;
  const y = (row: number) => foot - (row + 0.5) * size;
  const name = words.times.drawing(
    ...(MARKED.map((share) => figures.minutes(at(quantiles, share))) as [string, string, string, string]),
  );
  return (
    <div ref={place} class="finish-drawing">
      <svg width={width} height={foot + FOOT} role="img" aria-label={name}>
        {MARKED.map((share) => {
          const here = x(at(quantiles, share));
          return (
            <g key={share} class="share">
              <path d={`M${here} ${HEAD - 14}V${foot}`} />
              <text x={here} y={HEAD - 19} text-anchor="middle">
                {figures.percent(share)}
              </text>
            </g>
          );
        })}
        {other.length === 0 ? null : (
          <path class="beside" d={outline(other, minutes, x, (height) => foot - height * size)} />
        )}
        {dots.map((dot) => (
          <circle
            key={`${dot.column} ${dot.row}`}
            class={by === undefined || dot.minutes <= by ? "dot" : "dot later"}
            cx={x(dot.column)}
            cy={y(dot.row)}
            r={Math.max(2, size / 2 - 1)}
          />
        ))}
        <path class="base" d={`M${SIDE} ${foot}H${width - SIDE}`} />
        {timeTicks(from, to, room / LABEL).map((tick) => (
          <g key={tick} class="tick">
            <path d={`M${x(tick)} ${foot}v5`} />
            <text x={x(tick)} y={foot + 19} text-anchor="middle">
              {figures.minutes(tick)}
            </text>
            <text class="clock" x={x(tick)} y={foot + 36} text-anchor="middle">
              {figures.clock(begins + tick)}
            </text>
          </g>
        ))}
        <path class="planned" d={`M${x(planned)} ${HEAD - 4}V${foot}`} />
        {by === undefined ? null : (
          <g class="by">
            <path d={`M${x(by)} ${HEAD - 34}V${foot + 5}`} />
            <text
              x={x(by)}
              y={12}
              text-anchor={x(by) > width * 0.75 ? "end" : x(by) < width * 0.25 ? "start" : "middle"}
            >
              {figures.percent(chanceWithin(quantiles, by))}
            </text>
          </g>
        )}
      </svg>
      <p class="small soft">
        {words.times.dots} {words.times.axis}.
      </p>
    </div>
  );
};
