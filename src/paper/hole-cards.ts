// Owns the hole cards: the layout of a joint at full size, to stick its bolts through as they come out; what the paper does not hold comes as a whole to a scale, then at full size over sheets that are laid together.

import { type Bolt, layOut } from "../fastening/index.ts";
import { layoutOf, type Plan } from "../plan/index.ts";
import type { Connection, Vehicle } from "../vehicle/index.ts";
import { circle, drawing, line, mm, onWhite, rect, words as text } from "./drawing.ts";
import type { Figures } from "./figures.ts";
import type { Words } from "./said.ts";
import type { Block, Paper, Sheet } from "./sheet.ts";
import { saidCode, type Tagging } from "./tag-faces.ts";
import { isWhole, type Tile, tilesOf } from "./tiles.ts";

/** Millimetres that a hole card may fill, its bar beneath it left out. */
const ROOM: Readonly<Record<Paper, { readonly wide: number; readonly high: number }>> = {
  a4: { wide: 178, high: 215 },
  letter: { wide: 183, high: 198 },
};
/** And one sheet of a card that is laid together, which has the page to itself. */
const PAGE: typeof ROOM = { a4: { wide: 178, high: 232 }, letter: { wide: 183, high: 214 } };
/** Millimetres about the outermost places, for what is written at them. */
const AROUND = 16;
/** Of the bar that is measured before the card is trusted, and what it takes beneath the drawing. */
const BAR = { long: 100, high: 10 };

/** A joint's places in millimetres from the upper left corner of its card at full size. */
interface Card {
  readonly wide: number;
  readonly high: number;
  readonly places: readonly { readonly id: string; readonly item: string; readonly x: number; readonly y: number }[];
}

export function holesSheet(
  vehicle: Vehicle,
  plan: Plan,
  tagging: Tagging,
  words: Words,
  figures: Figures,
  paper: Paper,
): Sheet {
  const out = new Map(
    [...plan.out, ...plan.work].flatMap(({ steps }) =>
      steps.flatMap(({ action, id, number }) => (action === "release" ? [[id, number] as const] : [])),
    ),
  );
  const blocks = vehicle.connections.flatMap((connection): readonly Block[] => {
    const number = out.get(connection.id);
    const lengths = new Set(connection.hardware.flatMap(({ item, holes }) => (holes === undefined ? [] : [item])));
    if (number === undefined || lengths.size < 2) return [];
    const layout = layoutOf(connection);
    const laid = layout === undefined ? undefined : layOut(layout);
    if (laid === undefined || !("answer" in laid)) return [];
    const name = `${number} ${connection.label}`;
    const code = saidCode(tagging, connection.id);
    const card = cardOf(connection, laid.answer);
    return [
      { kind: "heading", level: 2, text: name, aside: code },
      ...("bolts" in (layout ?? {})
        ? measured(card, connection, `${name} (${code})`, words, figures, paper)
        : unmeasured(card, connection, words, paper)),
    ];
  });
  return {
    kind: "holes",
    title: words.tags.holes,
    ...(blocks.length === 0
      ? { blocks: [{ kind: "text", text: words.tags.noHoles }], empty: true as const }
      : { blocks }),
  };
}

function cardOf({ hardware }: Connection, bolts: readonly Bolt[]): Card {
  const xs = bolts.map(({ x }) => 1000 * x);
  const ys = bolts.map(({ y }) => 1000 * y);
  const [left, high] = [Math.min(...xs), Math.max(...ys)];
  const items = new Map(hardware.flatMap(({ item, holes = [] }) => holes.map((hole) => [hole, item] as const)));
  return {
    wide: Math.max(...xs) - left + 2 * AROUND,
    high: high - Math.min(...ys) + 2 * AROUND,
    places: bolts.map(({ id, x, y }) => ({
      id,
      item: items.get(id) ?? hardware[0]?.item ?? "",
      x: 1000 * x - left + AROUND,
      y: high - 1000 * y + AROUND,
    })),
  };
}

/** The whole card and, where it is larger than the paper, the sheets at full size. */
function measured(
  card: Card,
  { label }: Connection,
  name: string,
  { tags }: Words,
  figures: Figures,
  paper: Paper,
): readonly Block[] {
  const told = toldOf(card);
  const alt = tags.holeAlt(label, told);
  const scale = Math.min(1, scaleFor(card, ROOM[paper]));
  if (scale === 1) {
    const wide = Math.max(card.wide, BAR.long + 20);
    return [
      { kind: "text", text: tags.fullSize },
      {
        kind: "figure",
        svg: drawing(wide, card.high + BAR.high, [...marksOf(card, 1, (wide - card.wide) / 2, 0), ...bar(card.high)]),
        alt,
        wide,
      },
      { kind: "text", small: true, text: told },
    ];
  }
  const tiles = tilesOf(
    card,
    PAGE[paper],
    card.places.map(({ x, y, item }) => ({ x, y, radius: radiusOf(item) })),
  );
  const [wide, high] = [smaller(card.wide, scale), smaller(card.high, scale)];
  return [
    {
      kind: "text",
      text: `${tags.reduced(`1 : ${figures.number(1 / scale, 2)}`)} ${tags.tiled(tiles.length)}`,
    },
    {
      kind: "figure",
      svg: drawing(wide, high, [...tiles.map((tile) => outlined(tile, card, scale)), ...marksOf(card, scale, 0, 0)]),
      alt,
      wide,
    },
    { kind: "text", small: true, text: told },
    ...tiles.flatMap((tile): readonly Block[] => {
      const holes = card.places.filter((place) => isOn(place, tile));
      return [
        { kind: "page" },
        { kind: "heading", level: 3, text: tags.tile(name, tile.row, tile.column), aside: tags.lay },
        {
          kind: "figure",
          svg: tileDrawing(card, tile, tags.sheet),
          alt: tags.holeAlt(
            tags.tile(label, tile.row, tile.column),
            holes.map(({ id, item }) => `${id} ${shortOf(item)}`).join(", "),
          ),
          wide: tile.wide,
        },
      ];
    }),
  ];
}

/** The card of a joint of which the file gives only the order of the places. */
function unmeasured(card: Card, { label }: Connection, { tags }: Words, paper: Paper): readonly Block[] {
  const most = Math.max(card.wide, card.high) - 2 * AROUND;
  const scale = Math.min(scaleFor(card, ROOM[paper]), 120 / Math.max(1, most));
  const told = toldOf(card);
  const wide = smaller(card.wide, scale);
  return [
    { kind: "text", text: tags.noSize },
    {
      kind: "figure",
      svg: drawing(wide, smaller(card.high, scale), marksOf(card, scale, 0, 0)),
      alt: tags.holeAlt(label, told),
      wide,
    },
    { kind: "text", small: true, text: told },
  ];
}

const scaleFor = ({ wide, high }: Card, room: { readonly wide: number; readonly high: number }): number =>
  Math.min(
    (room.wide - 2 * AROUND) / Math.max(1, wide - 2 * AROUND),
    (room.high - 2 * AROUND) / Math.max(1, high - 2 * AROUND),
  );

/** A length of a card that is drawn smaller: what is written about it stays as large. */
const smaller = (length: number, scale: number): number => (length - 2 * AROUND) * scale + 2 * AROUND;

/** The places; a bolt is as thick on a card that is drawn smaller. */
const marksOf = ({ places }: Card, scale: number, right: number, down: number): readonly string[] =>
  places.map(({ id, item, x, y }) => {
    const [px, py] = [(x - AROUND) * scale + AROUND + right, (y - AROUND) * scale + AROUND + down];
    const radius = radiusOf(item);
    return [
      circle(px, py, radius, 'fill="none" stroke="#000" stroke-width=".35"'),
      line(px - radius, py, px + radius, py, 'stroke="#000" stroke-width=".15"'),
      line(px, py - radius, px, py + radius, 'stroke="#000" stroke-width=".15"'),
      onWhite(px, py - radius - 1.4, 3.2, shortOf(item), 'font-weight="bold"'),
      onWhite(px, py + radius + 3.6, 2.6, id),
    ].join("");
  });

/** The bar beneath a drawing, a mark every ten millimetres. */
const bar = (under: number): readonly string[] => [
  line(4, under + 5, 4 + BAR.long, under + 5, 'stroke="#000" stroke-width=".3"'),
  ...Array.from({ length: BAR.long / 10 + 1 }, (_, n) =>
    line(4 + 10 * n, under + (n % 10 === 0 ? 2 : 3.5), 4 + 10 * n, under + 5, 'stroke="#000" stroke-width=".3"'),
  ),
  text(6 + BAR.long, under + 5, 2.8, `${BAR.long} mm`),
];

/** Where a sheet lies on the whole card, with its name. */
const outlined = ({ left, top, wide, high, row, column }: Tile, card: Card, scale: number): string => {
  // The edge of the card is drawn at full size, what lies between to the scale.
  const at = (value: number, whole: number): number =>
    Math.min(Math.max(0, (value - AROUND) * scale + AROUND), smaller(whole, scale));
  const [x, y] = [at(left, card.wide), at(top, card.high)];
  const [across, down] = [at(left + wide, card.wide) - x, at(top + high, card.high) - y];
  const clear = ([px, py]: readonly [number, number]): number =>
    Math.min(...card.places.map((place) => Math.hypot(at(place.x, card.wide) - px, at(place.y, card.high) - py)));
  // In the middle, or where there is more room about it.
  const [nameX, nameY] = SPOTS.map(([a, b]) => [x + a * across, y + b * down] as const).reduce((best, one) =>
    clear(best) < CLEAR && clear(one) > clear(best) ? one : best,
  );
  return (
    rect(x, y, across, down, 'fill="none" stroke="#555" stroke-width=".2" stroke-dasharray="1.5 1"') +
    text(nameX, nameY, 3, `${row}/${column}`, 'fill="#333" text-anchor="middle"')
  );
};

/** Of a sheet on the whole card: where its name may stand; and how far from the middle of a bolt that is far enough, millimetres. */
const SPOTS = [
  [0.5, 0.5],
  [0.5, 0.3],
  [0.5, 0.7],
  [0.3, 0.5],
  [0.7, 0.5],
] as const;
const CLEAR = 14;

const isOn = ({ x, y, item }: Card["places"][number], tile: Tile): boolean =>
  isWhole({ x, y, radius: radiusOf(item) }, tile);

/** One sheet at full size: its part of the card, the crosses that are laid on those of the sheets about it, which sheets those are, and the bar. */
function tileDrawing(card: Card, tile: Tile, sheet: (row: number, column: number) => string): string {
  const { wide, high, row, column } = tile;
  const own = { ...card, places: card.places.filter((place) => isOn(place, tile)) };
  const beside = (r: number, c: number, x: number, y: number, more: string): string =>
    text(x, y, 2.6, sheet(r, c), `fill="#333" ${more}`);
  const turned = (x: number, y: number): string => `text-anchor="middle" transform="rotate(-90 ${mm(x)} ${mm(y)})"`;
  return drawing(wide, high + BAR.high, [
    rect(0.2, 0.2, wide - 0.4, high - 0.4, 'fill="none" stroke="#000" stroke-width=".2" stroke-dasharray="2 1.5"'),
    ...tile.crosses.map(
      ([x, y]) =>
        line(x - 5, y, x + 5, y, 'stroke="#000" stroke-width=".2"') +
        line(x, y - 5, x, y + 5, 'stroke="#000" stroke-width=".2"') +
        circle(x, y, 2.5, 'fill="none" stroke="#000" stroke-width=".2"'),
    ),
    ...(tile.above ? [beside(row - 1, column, wide / 2, 3.6, 'text-anchor="middle"')] : []),
    ...(tile.below ? [beside(row + 1, column, wide / 2, high - 1.6, 'text-anchor="middle"')] : []),
    ...(tile.before ? [beside(row, column - 1, 3.6, high / 2, turned(3.6, high / 2))] : []),
    ...(tile.after ? [beside(row, column + 1, wide - 1.6, high / 2, turned(wide - 1.6, high / 2))] : []),
    ...marksOf(own, 1, -tile.left, -tile.top),
    ...bar(high),
  ]);
}

/** Which item goes into which places. */
const toldOf = ({ places }: Card): string => {
  const holes = new Map<string, string[]>();
  for (const { id, item } of places) holes.set(item, [...(holes.get(item) ?? []), id]);
  return [...holes].map(([item, ids]) => `${shortOf(item)}: ${ids.join(", ")}`).join("; ");
};

const radiusOf = (item: string): number => Number(/M(\d+(?:\.\d+)?)/.exec(item)?.[1] ?? 6) / 2;

/** "bolt M10×45" → "M10×45". */
const shortOf = (item: string): string => /[M#]?\d\S*(?:\s*[×x]\s*\S+)?/.exec(item)?.[0] ?? item;
