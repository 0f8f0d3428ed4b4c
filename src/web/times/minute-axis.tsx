// Owns the axis of minutes above a list of small marks.

import type { ScaleLinear } from "d3-scale";
import { useFigures } from "../sheet/figures.ts";
import { timeTicks } from "./chances.ts";

/** A label takes so many pixels. */
const LABEL = 80;

export const MinuteAxis = ({ x, width }: { readonly x: ScaleLinear<number, number>; readonly width: number }) => {
  const figures = useFigures();
  const [from = 0, to = 1] = x.domain();
  const ticks = timeTicks(from, to, Math.max(1, Math.floor(width / LABEL)));
  return (
    <svg class="axis" width={width} height={24} aria-hidden="true">
      {ticks.map((tick) => (
        <g key={tick}>
          <path d={`M${x(tick)} 18V24`} />
          <text x={x(tick)} y={13} text-anchor={x(tick) < 12 ? "start" : "middle"}>
            {figures.minutes(tick)}
          </text>
        </g>
      ))}
    </svg>
  );
};
