// Owns the tie chart as a picture: hull, assembly, and each tie as a line that is whole, parted or gone.

import { memo } from "preact/compat";
import type { Kind } from "../../vehicle/index.ts";
import { useWords } from "../words/words.ts";
import { KIND_MARKS, pathOf } from "./kind-marks.ts";
import type { Layout, PlacedTie, Spot } from "./layout.ts";
import type { Standing, Tie } from "./scene.ts";

/** With more ties than this a line is one path until it is enlarged so much that its label can be read. */
const MANY = 400;
/** The share of a line, from the hull, that is left when it has parted. */
const STUB = 0.3;
/** Where on its line the number of a suspect may stand, what is best first. */
const MARKED = [0.55, 0.4, 0.7, 0.25, 0.85];
/** A level bit of line at the hull, before it goes to its place. */
const LANDING = 18;
const LABEL = 13;
/** Screen pixels: half of what a suspect's number stands in, and the height of its label at the least. */
const BADGE = 11;
const SAID = 12;

const between = ([ax, ay]: Spot, [bx, by]: Spot, share: number): Spot => [
  ax + (bx - ax) * share,
  ay + (by - ay) * share,
];

/** What the readings of a trial lift say of a tie: its place among the likeliest, and its chance in words. */
export interface Suspect {
  readonly rank: number;
  readonly chance: string;
}

interface LineProps {
  readonly placed: PlacedTie;
  readonly suspect: Suspect | undefined;
  readonly standing: Standing;
  readonly isNow: boolean;
  readonly isChosen: boolean;
  readonly isDim: boolean;
  readonly isPlain: boolean;
  readonly labelled: number;
  /** Units of the drawing that a label may be wide. */
  readonly room: number;
}

/** Of the height of a letter: how wide one is, on average, in this typeface. */
const LETTER = 0.604;

/** As much of a label as has room; the list beside has all of it. */
const shortened = (text: string, size: number, room: number): string => {
  const most = Math.floor(room / (size * LETTER));
  return text.length <= most ? text : `${text.slice(0, most - 1).trimEnd()}…`;
};

const labelOf = ({ step, label }: Tie, suspect: Suspect | undefined): string =>
  suspect !== undefined ? `${suspect.chance}  ${label}` : step === undefined ? label : `${step}  ${label}`;

interface BadgesProps {
  readonly ties: readonly PlacedTie[];
  readonly suspects: ReadonlyMap<string, Suspect>;
  readonly enlarged: number;
}

/** The numbers of the suspects, each on its line where no likelier one's is: as large as they can be read however small the chart is drawn. */
const Badges = ({ ties, suspects, enlarged }: BadgesProps) => {
  const taken: Spot[] = [];
  const ranked = ties
    .flatMap((placed) => {
      const suspect = suspects.get(placed.tie.id);
      return suspect === undefined ? [] : [{ placed, rank: suspect.rank }];
    })
    .sort((a, b) => a.rank - b.rank);
  return ranked.map(({ placed: { outer, inner }, rank }) => {
    const spots = MARKED.map((share) => between(outer, inner, share));
    const isFree = ([x, y]: Spot) =>
      taken.every(([otherX, otherY]) => Math.hypot(x - otherX, y - otherY) * enlarged > 2.4 * BADGE);
    const [x, y] = spots.find(isFree) ?? spots[0] ?? outer;
    taken.push([x, y]);
    return (
      <g key={rank} class="badge" transform={`translate(${x} ${y}) scale(${1 / enlarged})`}>
        <circle r={BADGE} />
        <text text-anchor="middle" y={BADGE / 2}>
          {rank}
        </text>
      </g>
    );
  });
};

/** Drawn anew only when its own state changes. */
const Line = memo(({ placed, suspect, standing, isNow, isChosen, isDim, isPlain, labelled, room }: LineProps) => {
  const { tie, side, inner, outer } = placed;
  const sign = side === "left" ? 1 : -1;
  const mark = KIND_MARKS[tie.kind];
  const landing: Spot = [outer[0] + sign * LANDING, outer[1]];
  const parted = between(landing, inner, STUB);
  const isGone = standing === "loose" || standing === "verified";
  const state = `tie ${standing} ${tie.isCut ? "cut" : "way"}${isNow ? " now" : ""}${isChosen ? " chosen" : ""}${isDim ? " dim" : ""}${suspect === undefined ? "" : ` suspect${suspect.rank === 1 ? " first" : ""}`}`;
  if (isPlain)
    return (
      <path
        class={state}
        data-tie={tie.id}
        d={pathOf({ ...mark, run: "single" }, outer, isGone ? parted : inner)}
        stroke-dasharray={mark.dash}
      />
    );
  return (
    <g class={state} data-tie={tie.id}>
      <path class="reach" d={`M${outer[0]} ${outer[1]}L${landing[0]} ${landing[1]}L${inner[0]} ${inner[1]}`} />
      <path
        class="line outer"
        d={pathOf(mark, outer, landing) + pathOf(mark, landing, parted)}
        stroke-width={mark.width}
        stroke-dasharray={mark.dash}
      />
      <path class="line inner" d={pathOf(mark, parted, inner)} stroke-width={mark.width} stroke-dasharray={mark.dash} />
      <path
        class={mark.solid === true ? "mark solid" : "mark"}
        d={mark.mark}
        transform={`translate(${outer[0]} ${outer[1]})`}
      />
      <circle class="end" cx={inner[0]} cy={inner[1]} r="2" />
      {labelled < 1 ? null : (
        <text
          x={outer[0] - sign * 13}
          y={outer[1] + labelled * 0.36}
          text-anchor={side === "left" ? "end" : "start"}
          style={{ fontSize: `${labelled}px` }}
        >
          {shortened(labelOf(tie, suspect), labelled, room)}
        </text>
      )}
    </g>
  );
});

export interface ChartProps {
  readonly layout: Layout;
  readonly standing: ReadonlyMap<string, Standing>;
  /** The tie of the step that one stands at. */
  readonly now?: string;
  readonly chosen?: string;
  /** Ties that are looked for; the others step back. */
  readonly found?: ReadonlySet<string>;
  readonly suspects?: ReadonlyMap<string, Suspect>;
  readonly isAloft: boolean;
  readonly label: string;
  /** How much it is enlarged: labels that would be too small to read are left out. */
  readonly enlarged: number;
}

/** The tie that an element of the chart belongs to. What is done here by pointing is done by key in the list beside it. */
export const tieAt = (element: Element): string | undefined => element.closest<SVGElement>("[data-tie]")?.dataset.tie;

/** Screen pixels that a label has at the least. */
const READABLE = 9;

export const Chart = ({ layout, standing, now, chosen, found, suspects, isAloft, label, enlarged }: ChartProps) => {
  const { width, height, hull, parts, ties, within, sectors, row } = layout;
  const size = Math.min(LABEL, row * 0.86);
  const isPlain = ties.length > MANY && row * enlarged < READABLE;
  const labelled = size * enlarged < READABLE ? 0 : size;
  const heading = Math.min(26, Math.max(LABEL, 9.5 / enlarged));
  return (
    <svg class={isAloft ? "chart aloft" : "chart"} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={label}>
      <rect class="hull" x={hull[0]} y={hull[1]} width={hull[2]} height={hull[3]} rx="10" />
      <path class="front" d={`M${width / 2 - 8} ${hull[1] + 16}l8 -9l8 9`} />
      {sectors.map(({ id, label: name, side, top, bottom, ties: own }) => {
        const sign = side === "left" ? -1 : 1;
        const x = side === "left" ? hull[0] : hull[0] + hull[2];
        const tied = own.filter((one) => standing.get(one) === "tied").length;
        return (
          <g key={id} class={tied === 0 ? "sector done" : "sector"}>
            <path d={`M${x + sign * 5} ${top + 4}V${bottom}`} />
            <text
              x={x + sign * 13}
              y={top}
              text-anchor={side === "left" ? "end" : "start"}
              style={{ fontSize: `${heading}px` }}
            >
              <tspan class="name">{shortened(name, heading, hull[0] - 16 - 3 * heading)}</tspan>
              <tspan class="count" dx="6">
                {tied > 0 ? tied : ""}
              </tspan>
            </text>
          </g>
        );
      })}
      <g class="lines">
        {ties.map((placed) => (
          <Line
            key={placed.tie.id}
            placed={placed}
            suspect={suspects?.get(placed.tie.id)}
            standing={standing.get(placed.tie.id) ?? "slack"}
            isNow={placed.tie.id === now}
            isChosen={placed.tie.id === chosen}
            isDim={found !== undefined && !found.has(placed.tie.id)}
            isPlain={isPlain && suspects?.has(placed.tie.id) !== true}
            labelled={suspects?.has(placed.tie.id) === true ? Math.max(labelled, SAID / enlarged) : labelled}
            room={hull[0] - 16}
          />
        ))}
      </g>
      <g class="assembly">
        {parts.map(({ id, box: [x, y, w, h] }) => (
          <rect key={id} x={x} y={y} width={w} height={h} />
        ))}
        {parts.map(({ id, label: name, box: [x, y, w, h] }) =>
          w > name.length * 6.5 && h > 18 ? (
            <text key={id} x={x + 6} y={y + h / 2 + 5}>
              {name}
            </text>
          ) : null,
        )}
        {within.map(({ tie, at: [x, y] }) => {
          const mark = KIND_MARKS[tie.kind];
          return (
            <g
              key={tie.id}
              class={`tie ${standing.get(tie.id) ?? "inside"}${tie.id === chosen || tie.id === now ? " chosen" : ""}`}
              data-tie={tie.id}
              transform={`translate(${x} ${y})`}
            >
              <path class={mark.solid === true ? "mark solid" : "mark"} d={mark.mark} transform="scale(0.8)" />
            </g>
          );
        })}
      </g>
      {suspects === undefined ? null : <Badges ties={ties} suspects={suspects} enlarged={enlarged} />}
    </svg>
  );
};

/** The kinds that are on the chart, each as it is drawn. */
export const Legend = ({ kinds }: { readonly kinds: readonly Kind[] }) => {
  const words = useWords();
  return (
    <ul class="legend">
      {kinds.map((kind) => {
        const mark = KIND_MARKS[kind];
        return (
          <li key={kind}>
            <svg viewBox="0 0 56 14" aria-hidden="true">
              <path
                class="line"
                d={pathOf(mark, [14, 7], [55, 7])}
                stroke-width={mark.width}
                stroke-dasharray={mark.dash}
              />
              <path class={mark.solid === true ? "mark solid" : "mark"} d={mark.mark} transform="translate(7 7)" />
            </svg>
            {words.kinds[kind]}
          </li>
        );
      })}
    </ul>
  );
};
