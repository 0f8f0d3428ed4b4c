// Owns the small mark of a time by chance: a line from its tenth to its ninetieth percentile with its middle, on an axis of minutes.

import type { Lognormal } from "../../times/index.ts";
import { middleOf, rangeOf } from "./spans.ts";

export const Interval = ({
  time,
  x,
  y,
  kind,
}: {
  readonly time: Lognormal;
  readonly x: (minutes: number) => number;
  readonly y: number;
  readonly kind: "known" | "assumed" | "taught" | "before";
}) => {
  const [low, high] = rangeOf(time);
  const middle = x(middleOf(time));
  return (
    <g class={`interval ${kind}`}>
      <path d={`M${x(low)} ${y}H${x(high)}`} />
      {kind === "taught" || kind === "known" ? (
        <circle cx={middle} cy={y} r={3} />
      ) : (
        <circle class="open" cx={middle} cy={y} r={3} />
      )}
    </g>
  );
};
