// Owns the drawing of the ways to mend: the chance to be done over the time elapsed, a line for each, and their figures.

import { scaleLinear } from "d3-scale";
import type { Ways } from "../../plan/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { timeTicks } from "../times/chances.ts";
import { useWidth } from "../times/use-width.ts";
import { useWords } from "../words/words.ts";
import { Wide } from "./wide.tsx";

/** Told apart by their dashes, not by colour. */
const DASHES = { "in place": "2 4", out: "9 4", swap: "none" } as const;
const [HEIGHT, LEFT, RIGHT, TOP, BOTTOM] = [240, 46, 14, 12, 30];
const LABEL = 80;

export const WaysDrawing = ({
  compared,
  ms,
  isBefore,
}: {
  readonly compared: Ways;
  readonly ms: number;
  readonly isBefore: boolean;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { place, width } = useWidth(760);
  const drawn = compared.ways.filter(({ curve }) => curve !== undefined);
  const minutes = drawn.flatMap(({ curve }) => curve ?? []).map(([at]) => at);
  const [from, to] = [Math.min(...minutes), Math.max(...minutes)];
  const x = scaleLinear([from, to], [LEFT, width - RIGHT]);
  const y = scaleLinear([0, 1], [HEIGHT - BOTTOM, TOP]);
  return (
    <div class={isBefore ? "found before" : "found"}>
      {drawn.length === 0 ? null : (
        <div ref={place} class="ways-drawing">
          <svg width={width} height={HEIGHT} role="img" aria-label={words.improve.chanceDone}>
            {[0, 0.25, 0.5, 0.75, 1].map((share) => (
              <g key={share} class="rule">
                <path d={`M${LEFT} ${y(share)}H${width - RIGHT}`} />
                <text x={LEFT - 6} y={y(share) + 4} text-anchor="end">
                  {figures.percent(share)}
                </text>
              </g>
            ))}
            {timeTicks(from, to, (width - LEFT - RIGHT) / LABEL).map((tick) => (
              <g key={tick} class="tick">
                <path d={`M${x(tick)} ${y(0)}v5`} />
                <text x={x(tick)} y={y(0) + 20} text-anchor="middle">
                  {figures.minutes(tick)}
                </text>
              </g>
            ))}
            {drawn.map(({ way, curve }) => (
              <path
                key={way}
                class="curve"
                stroke-dasharray={DASHES[way]}
                d={`M${(curve ?? []).map(([at, share]) => `${x(at)} ${y(share)}`).join("L")}`}
              />
            ))}
          </svg>
          <p class="small soft">{words.improve.chanceDone}</p>
        </div>
      )}
      <Wide label={words.improve.ways}>
        <table class="ways-table">
          <thead>
            <tr>
              <th scope="col">{words.improve.way}</th>
              <th scope="col">{words.improve.first}</th>
              <th scope="col" class="number">
                {words.improve.labour}
              </th>
              <th scope="col" class="number">
                {words.improve.median}
              </th>
              <th scope="col" class="number">
                {words.improve.p95}
              </th>
              <th scope="col" class="number">
                {words.improve.behindFirst}
              </th>
            </tr>
          </thead>
          <tbody>
            {compared.ways.map(({ way, label, status, first, labour, percentiles, behind }) => {
              const p = (share: number) => percentiles?.find((one) => one.share === share)?.value ?? 0;
              return (
                <tr key={way}>
                  <th scope="row">
                    <svg width={34} height={10} aria-hidden="true">
                      <path class="curve" d="M0 5H34" stroke-dasharray={DASHES[way]} />
                    </svg>{" "}
                    {words.improve.wayNames[way]}
                    <small class="soft">{label}</small>
                  </th>
                  {status !== "reckoned" || first === undefined ? (
                    <td colSpan={5} class="soft">
                      {status === "no plan" ? words.improve.noPlan : words.improve.notReckoned}
                    </td>
                  ) : (
                    <>
                      <td class="first">
                        <b>{figures.percent(first.value, 1)}</b>
                        <small class="soft"> ± {figures.number(100 * first.error, 1)}</small>
                        <svg class="line" viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true">
                          <path class="base" d="M1 6H99" />
                          <path class="value" d={`M1 6H${1 + 98 * first.value}`} />
                        </svg>
                      </td>
                      <td class="number">{figures.minutes(labour ?? 0)}</td>
                      <td class="number">{figures.minutes(p(0.5))}</td>
                      <td class="number">{figures.minutes(p(0.95))}</td>
                      <td class="number">{figures.minutes(behind ?? 0)}</td>
                    </>
                  )}
                </tr>
              );
            })}
          </tbody>
        </table>
      </Wide>
      <p class="small soft">{words.improve.took(`${figures.number(ms / 1000, 1)} s`)}</p>
    </div>
  );
};
