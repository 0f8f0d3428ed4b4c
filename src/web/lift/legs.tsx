// Owns what each leg carries: now, and over the whole range of what is not known, drawn as an interval on one axis.

import { scaleLinear } from "d3-scale";
import type { LiftHung } from "../../plan/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { useSaying } from "./checks.tsx";

const WIDE = 240;
/** Newtons that are worth a word. */
const SOME = 5;

export const Legs = ({ lift }: { readonly lift: LiftHung }) => {
  const words = useWords();
  const figures = useFigures();
  const say = useSaying();
  const { hanging, ranges, causes } = lift.answer;
  const known = ranges.kind === "ranges" ? new Map(ranges.legs.map((leg) => [leg.id, leg])) : undefined;
  const most = Math.max(1, ...hanging.legs.map(({ id, tension }) => known?.get(id)?.tension.high.bound ?? tension));
  const axis = scaleLinear()
    .domain([0, most])
    .nice(4)
    .range([4, WIDE - 4]);
  return (
    <section aria-labelledby="legs">
      <h2 id="legs">{words.lift.legs}</h2>
      <table>
        <thead>
          <tr>
            <th>{words.lift.leg}</th>
            <th class="number">{words.lift.tension}</th>
            <th>{words.lift.range}</th>
            <th class="number">{words.lift.angle}</th>
            <th class="number">{words.lift.length}</th>
          </tr>
        </thead>
        <tbody>
          {hanging.legs.map((leg, n) => {
            const range = known?.get(leg.id);
            const [low, high] = [range?.tension.low.bound ?? leg.tension, range?.tension.high.bound ?? leg.tension];
            return (
              <tr key={leg.id}>
                <td class="short">
                  {n + 1} {leg.id}
                </td>
                <td class="number">
                  {leg.tension <= 0
                    ? words.lift.slackBy(figures.measure(leg.slack, "short"))
                    : figures.measure(leg.tension, "force")}
                </td>
                <td>
                  <svg class="interval" viewBox={`0 0 ${WIDE} 26`} aria-hidden="true">
                    <path
                      class="axis"
                      d={`M4 20H${WIDE - 4}${axis
                        .ticks(4)
                        .map((at) => `M${axis(at)} 20v4`)
                        .join("")}`}
                    />
                    <path class="span" d={`M${axis(low)} 5v10M${axis(low)} 10H${axis(high)}M${axis(high)} 5v10`} />
                    <circle cx={axis(leg.tension)} cy="10" r="4" />
                  </svg>
                  <small class="soft">
                    {range === undefined
                      ? ""
                      : words.lift.between(figures.measure(low, "force"), figures.measure(high, "force"))}
                    {range?.maySlack === true ? `, ${words.lift.maySlack}` : ""}
                  </small>
                </td>
                <td class="number">{figures.degrees(leg.angle)}</td>
                <td class="number">{figures.measure(leg.length, "length")}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      {ranges.kind === "ranges" ? (
        <p class="small soft">{ranges.status === "proved" ? words.lift.proved : words.lift.tried}</p>
      ) : (
        <p class="small soft">{words.lift.noRanges(say(ranges.why))}</p>
      )}
      {causes.map(({ leg, causes: own }) => (
        <p class="small" key={leg}>
          {words.lift.worst(leg)}{" "}
          {own
            .filter(({ adds }) => Math.abs(adds) >= SOME)
            .map(
              ({ cause, adds }) =>
                `${words.lift.causes[cause]} ${adds < 0 ? "−" : "+"}${figures.measure(Math.abs(adds), "force")}`,
            )
            .join(", ")}
        </p>
      ))}
    </section>
  );
};
