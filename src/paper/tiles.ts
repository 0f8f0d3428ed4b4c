// Owns the cutting of a drawing that is larger than the paper into sheets: how many, where each lies, how far two overlap, and the crosses by which they are laid together.

export interface Tile {
  /** From 1. */
  readonly row: number;
  readonly column: number;
  /** Of the whole drawing, millimetres from its upper left corner. */
  readonly left: number;
  readonly top: number;
  readonly wide: number;
  readonly high: number;
  /** In millimetres of this sheet, two on each overlap: the same two points on both sheets. */
  readonly crosses: readonly (readonly [number, number])[];
  /** Whether there is a sheet about it. */
  readonly above: boolean;
  readonly below: boolean;
  readonly before: boolean;
  readonly after: boolean;
}

interface Size {
  readonly wide: number;
  readonly high: number;
}

/** Two sheets share at least so many millimetres, and more where a bolt is thicker: each is whole, with what is written at it, on one of them. */
const OVERLAP = 20;
/** Millimetres about a bolt's edge for its length and its number. */
const WRITTEN = 5;

/** How far apart sheets begin on one side, and how many there are. */
const alongOf = (length: number, most: number, overlap: number): { readonly count: number; readonly step: number } => {
  const count = Math.max(1, Math.ceil((length - overlap) / (most - overlap)));
  return { count, step: count === 1 ? length : (length - overlap) / count };
};

interface Cell {
  readonly row: number;
  readonly column: number;
}

const beside = (a: Cell, b: Cell): boolean => Math.abs(a.row - b.row) + Math.abs(a.column - b.column) === 1;

/** Whether the sheets can be laid together, each on one that lies already. */
const together = (cells: readonly Cell[]): boolean => {
  const [first] = cells;
  if (first === undefined) return true;
  const laid = new Set([first]);
  for (const one of laid) for (const other of cells) if (beside(one, other)) laid.add(other);
  return laid.size === cells.length;
};

/** A bolt's place on the drawing. */
interface Place {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/** Of a millimetre: what a sum of lengths may be off. */
const ROUNDING = 1e-6;

/** Whether a place is on a sheet with all that is written at it. Sheets overlap by so much that every place is whole on one. */
export const isWhole = (
  { x, y, radius }: Place,
  { left, top, wide, high }: Pick<Tile, "left" | "top" | "wide" | "high">,
): boolean => {
  const about = radius + WRITTEN - ROUNDING;
  return x >= left + about && x <= left + wide - about && y >= top + about && y <= top + high - about;
};

/**
 * The sheets of a drawing, row by row, all as large as each other. One on which there is nothing is left out, unless it holds the others together.
 * @param room what one sheet of paper holds.
 * @param places of the bolts on the drawing.
 */
export function tilesOf(whole: Size, room: Size, places: readonly Place[]): readonly Tile[] {
  const overlap = Math.max(OVERLAP, 2 * (Math.max(0, ...places.map(({ radius }) => radius)) + WRITTEN));
  const across = alongOf(whole.wide, room.wide, overlap);
  const down = alongOf(whole.high, room.high, overlap);
  const wide = across.count === 1 ? whole.wide : across.step + overlap;
  const high = down.count === 1 ? whole.high : down.step + overlap;
  const holds = ({ row, column }: Cell): boolean =>
    places.some((place) => isWhole(place, { left: column * across.step, top: row * down.step, wide, high }));
  let cells: readonly Cell[] = Array.from({ length: across.count * down.count }, (_, n) => ({
    row: Math.floor(n / across.count),
    column: n % across.count,
  }));
  for (const empty of cells.filter((cell) => !holds(cell))) {
    const rest = cells.filter((cell) => cell !== empty);
    if (together(rest)) cells = rest;
  }
  const seam = overlap / 2;
  // A quarter from either end: away from the corners, where four sheets would meet.
  const quarters = (length: number): readonly number[] => [length / 4, (3 * length) / 4];
  return cells.map(({ row, column }): Tile => {
    const is = (r: number, c: number): boolean => cells.some((cell) => cell.row === r && cell.column === c);
    const [above, below] = [is(row - 1, column), is(row + 1, column)];
    const [before, after] = [is(row, column - 1), is(row, column + 1)];
    return {
      row: row + 1,
      column: column + 1,
      left: column * across.step,
      top: row * down.step,
      wide,
      high,
      crosses: [
        ...(above ? quarters(wide).map((x) => [x, seam] as const) : []),
        ...(below ? quarters(wide).map((x) => [x, high - seam] as const) : []),
        ...(before ? quarters(high).map((y) => [seam, y] as const) : []),
        ...(after ? quarters(high).map((y) => [wide - seam, y] as const) : []),
      ],
      above,
      below,
      before,
      after,
    };
  });
}
