// Owns what the load meets on its way: what it comes nearest to, and which ties would come taut if they had stayed on.

import type { Clearing, Tautness } from "../../rigging/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";

/** Ties that come taut first; the rest is for who asks. */
const FEW = 6;

interface WayProps {
  /** It stands on what carries it, and goes along its way as often down as up. */
  readonly stands?: boolean;
  readonly clearing: Clearing;
  readonly taut: readonly Tautness[];
  readonly name: (id: string) => string;
}

export const Way = ({ clearing, taut, name, stands = false }: WayProps) => {
  const words = useWords();
  const figures = useFigures();
  const meeting = clearing.contact ?? clearing.least;
  const pulls = taut.filter(({ at }) => at !== undefined);
  const gone = (rise: number): string => words.lift.gone(figures.measure(Math.abs(rise), "length"), rise < 0);
  const row = ({ id, at }: Tautness) => (
    <tr key={id}>
      <td>{name(id)}</td>
      <td class="number">
        {at === undefined ? words.lift.never : figures.measure(stands ? at.travel : at.rise, "short")}
      </td>
    </tr>
  );
  return (
    <section aria-labelledby="way">
      <h2 id="way">{words.lift.way}</h2>
      <p>
        {meeting === undefined
          ? words.lift.nothingNear
          : clearing.contact === undefined
            ? words.lift.nearest(
                figures.measure(meeting.gap.distance, "short"),
                name(meeting.box),
                name(meeting.obstacle),
                gone(meeting.at.rise),
              )
            : words.lift.touches(name(meeting.box), name(meeting.obstacle), gone(meeting.at.rise))}
      </p>
      {clearing.atStart.length === 0 ? null : (
        <p class="small soft">
          {words.lift.atStart(
            clearing.atStart.map(({ box, obstacle }) => `${name(box)} – ${name(obstacle)}`).join("; "),
          )}
        </p>
      )}
      {pulls.length === 0 ? null : (
        <>
          <h3>{stands ? words.lift.tautStanding : words.lift.taut}</h3>
          <table>
            <tbody>{pulls.toReversed().slice(0, FEW).map(row)}</tbody>
          </table>
          {pulls.length > FEW ? (
            <details>
              <summary>{words.lift.allTaut(pulls.length)}</summary>
              <table>
                <tbody>{pulls.map(row)}</tbody>
              </table>
            </details>
          ) : null}
        </>
      )}
    </section>
  );
};
