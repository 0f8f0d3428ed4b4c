// Owns the table of ties in the overview: what each is, what it joins, where and how quickly it is released.

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Connection } from "../../vehicle/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";

/** How things are called, and the way to their lines. */
export interface Named {
  readonly label: (id: string) => string;
  readonly line: (id: string, label: string) => ComponentChildren;
}

interface TieTableProps {
  readonly ties: readonly Connection[];
  readonly named: Named;
  readonly caption: string;
  /** The part that they are shown at: not named again in each row. */
  readonly of?: string;
  /** The position that they are shown at: its own ways alone. */
  readonly at?: string;
  readonly isOpen: boolean;
}

/** Rows that are shown before somebody asks for more. */
const ROWS = 40;

export const TieTable = ({ ties, named, caption, of, at, isOpen }: TieTableProps) => {
  const words = useWords();
  const [count, setCount] = useState(isOpen ? ROWS : 0);
  const rest = ties.length - count;
  return (
    <>
      {count === 0 || ties.length === 0 ? null : (
        <table class="ties-of">
          <caption class="unseen">
            {caption}: {words.vehicle.ties(ties.length)}
          </caption>
          <thead>
            <tr>
              <th scope="col">{words.vehicle.tie}</th>
              <th scope="col">{of === undefined ? words.vehicle.joins : words.vehicle.to}</th>
              <th scope="col">{words.vehicle.where}</th>
              <th scope="col" class="number">
                {words.vehicle.time}
              </th>
            </tr>
          </thead>
          <tbody>
            {ties.slice(0, count).map((tie) => (
              <Row
                key={tie.id}
                tie={tie}
                named={named}
                {...(of === undefined ? {} : { of })}
                {...(at === undefined ? {} : { at })}
              />
            ))}
          </tbody>
        </table>
      )}
      {rest > 0 ? (
        <button type="button" class="small" onClick={() => setCount(count + 5 * ROWS)}>
          {count === 0 ? words.vehicle.ties(ties.length) : words.vehicle.more(Math.min(rest, 5 * ROWS))}
        </button>
      ) : null}
    </>
  );
};

interface RowProps {
  readonly tie: Connection;
  readonly named: Named;
  readonly of?: string;
  readonly at?: string;
}

const Row = ({ tie, named, of, at }: RowProps) => {
  const words = useWords();
  const figures = useFigures();
  const ways = at === undefined ? tie.ways : tie.ways.filter((way) => way.at === at);
  const times = ways.map(({ time }) => time);
  const places = [...new Set(ways.map((way) => (way.at === undefined ? words.vehicle.anywhere : named.label(way.at))))];
  const more = [
    words.kinds[tie.kind],
    tie.carrying ? words.vehicle.carries : undefined,
    tie.hidden ? words.vehicle.hidden : undefined,
    tie.holds === undefined ? undefined : words.vehicle.holds(tie.holds.fluid),
    tie.live === undefined ? undefined : words.vehicle.live(tie.live),
  ].filter((one) => one !== undefined);
  return (
    <tr>
      <th scope="row">
        {tie.label} {named.line(tie.id, tie.label)}
        <small class="soft">{more.join(", ")}</small>
      </th>
      <td data-head={of === undefined ? words.vehicle.joins : words.vehicle.to}>
        {tie.joins
          .filter((id) => id !== of)
          .map(named.label)
          .join(", ")}
      </td>
      <td data-head={words.vehicle.where}>
        {ways.length === 0 ? words.vehicle.never : places.join(", ")}
        {ways.length > 1 ? <small class="soft"> {words.vehicle.ways(ways.length)}</small> : null}
      </td>
      <td class="number" data-head={words.vehicle.time}>
        {ways.length === 0
          ? "–"
          : Math.min(...times) === Math.max(...times)
            ? figures.minutes(times[0] ?? 0)
            : words.vehicle.between(figures.minutes(Math.min(...times)), figures.minutes(Math.max(...times)))}
      </td>
    </tr>
  );
};
