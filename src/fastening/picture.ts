// Owns the picture of a pattern: every bolt where it is, numbered in the order of tightening, as SVG text.

import { centreOf } from "./layout.ts";
import type { Pattern } from "./pattern.ts";

/** Width of the drawing in its own units; the height follows the layout. */
const WIDTH = 400;
const MARGIN = 36;
/** Size of names and of the line beneath: to be read on paper, where a drawing is a hand wide. */
const SMALL = 14;
/** From the middle of a figure to its base line, of its size: printers do not all know how to centre text by themselves. */
const DROP = 0.36;

const escaped = (text: string): string =>
  text.replace(/[&<>"]/g, (sign) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[sign] as string);
const figure = (value: number): string => String(Number(value.toFixed(1)));

/** "bolt M10×45" → "M10×45": what a mechanic looks for on the bench. */
const sizeOf = (item: string): string => /[M#]?\d\S*(?:\s*[×x]\s*\S+)?/.exec(item)?.[0] ?? item;

/** The item that most places take; undefined where there is none to tell apart. */
function commonest(all: readonly string[]): string | undefined {
  const times = (item: string): number => all.filter((one) => one === item).length;
  return all.reduce<string | undefined>(
    (best, one) => (best === undefined || times(one) > times(best) ? one : best),
    undefined,
  );
}

/** The line beneath: the size of all bolts, or of those that stand without one. */
export type Legend = (size: string, isAll: boolean) => string;

const ENGLISH: Legend = (size, isAll) => (isAll ? `all ${size}` : `all without a size: ${size}`);

/**
 * The pattern as a picture to print or to show: seen from the wrench, the number in each bolt is its turn, the small text
 * beside it its own name, a thick ring the first. Where lengths differ (`items`) those that are not the commonest stand by their size, and a line
 * beneath says which that is. `title` is read out by a screen reader and shown by none. Black on white.
 */
export function drawPattern(
  { bolts, order, style }: Pattern,
  title: string,
  items: ReadonlyMap<string, string> = new Map(),
  legend: Legend = ENGLISH,
): string {
  const xs = bolts.map(({ x }) => x);
  const ys = bolts.map(({ y }) => y);
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const span = Math.max(right - left, high - low);
  const scale = span === 0 ? 1 : (WIDTH - 2 * MARGIN) / span;
  const usual = commonest([...items.values()]);
  // A size stands beside its ring and needs the room of its letters.
  const side =
    MARGIN +
    Math.max(
      0,
      ...[...items.values()].filter((one) => one !== usual).map((one) => 0.7 * SMALL * (sizeOf(one).length + 2)),
    );
  const width = (right - left) * scale + 2 * side;
  const height = (high - low) * scale + 2 * MARGIN + (usual === undefined ? 0 : 22);
  const place = (x: number, y: number): [number, number] => [side + (x - left) * scale, MARGIN + (high - y) * scale];

  let nearest = Number.POSITIVE_INFINITY;
  for (const [i, one] of bolts.entries())
    for (const other of bolts.slice(0, i))
      nearest = Math.min(nearest, Math.hypot(one.x - other.x, one.y - other.y) * scale);
  const radius = Math.min(18, 0.38 * nearest);
  const number = new Map(order.map((id, i) => [id, i + 1]));
  // Numbers of two and three figures must fit into the same ring.
  const size = Math.min(20, (radius * 2.4) / Math.max(1.6, String(order.length).length));

  const centre = centreOf(bolts);
  const [cx, cy] = place(centre.x, centre.y);
  const named = items.size > 0 || bolts.some(({ id }) => id !== String(number.get(id)));
  const nameOf = (id: string): string => {
    const item = items.get(id);
    return item === undefined || item === usual ? id : `${id} ${sizeOf(item)}`;
  };
  const marks = bolts.map(({ id, x, y }) => {
    const [px, py] = place(x, y);
    const turn = number.get(id) as number;
    const off = Math.hypot(px - cx, py - cy);
    // The name stands outside the ring, away from the middle.
    const [ux, uy] = off < 1e-6 ? [0, -1] : [(px - cx) / off, (py - cy) / off];
    const reach = radius + Math.min(11, Math.max(6, 0.2 * nearest));
    const small = Math.min(SMALL, size * 0.75);
    const name = nameOf(id);
    // A long name begins, or ends, at its ring and does not run through it.
    const anchor =
      name === id || Math.abs(ux) < 0.3 ? "" : ` text-anchor="${ux > 0 ? "start" : "end"}" font-weight="bold"`;
    const [nx, ny] =
      anchor === "" ? [px + ux * reach, py + uy * reach] : [px + ux * (radius + 5), py + uy * (radius + 5)];
    const label = named
      ? `<text x="${figure(nx)}" y="${figure(ny + DROP * small)}" font-size="${figure(small)}" fill="#444"${anchor}>${escaped(name)}</text>`
      : "";
    return (
      `<circle cx="${figure(px)}" cy="${figure(py)}" r="${figure(radius)}" fill="#fff" stroke="#000" stroke-width="${turn === 1 ? 3 : 1.2}"/>` +
      `<text x="${figure(px)}" y="${figure(py + DROP * size)}" font-size="${figure(size)}" fill="#000">${turn}</text>${label}`
    );
  });
  const path = order
    .slice(0, 4)
    .map((id) => bolts.find((bolt) => bolt.id === id))
    .flatMap((bolt) => (bolt === undefined ? [] : [place(bolt.x, bolt.y).map(figure).join(",")]));
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${figure(width)} ${figure(height)}" role="img" font-family="sans-serif" text-anchor="middle">`,
    `<title>${escaped(title)}</title>`,
    `<desc>${escaped(`${order.length} bolts, ${style}: ${order.join(", ")}`)}</desc>`,
    `<polyline points="${path.join(" ")}" fill="none" stroke="#999" stroke-width="1" stroke-dasharray="4 3"/>`,
    `<path d="M${figure(cx - 5)} ${figure(cy)}h10m-5 -5v10" stroke="#999" stroke-width="1"/>`,
    ...marks,
    ...(usual === undefined
      ? []
      : [
          `<text x="${figure(width / 2)}" y="${figure(height - 8)}" font-size="${SMALL}" fill="#444">${escaped(
            legend(
              sizeOf(usual),
              [...items.values()].every((one) => one === usual),
            ),
          )}</text>`,
        ]),
    "</svg>",
    "",
  ].join("\n");
}
