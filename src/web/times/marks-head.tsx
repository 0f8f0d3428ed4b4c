// Owns the head of a column of small marks: its axis of minutes, and in words what the marks are.

import type { ScaleLinear } from "d3-scale";
import type { Ref } from "preact";
import { MinuteAxis } from "./minute-axis.tsx";

interface MarksHeadProps {
  /** Of the two marks of a line. */
  readonly names: readonly [string, string];
  readonly x: ScaleLinear<number, number>;
  readonly width: number;
  /** What gives the marks their width. */
  readonly place: Ref<HTMLDivElement>;
}

export const MarksHead = ({ names, x, width, place }: MarksHeadProps) => (
  <th scope="col" class="marks">
    <span class="unseen">{names.join(", ")}</span>
    <div ref={place}>
      <MinuteAxis x={x} width={width} />
    </div>
  </th>
);
