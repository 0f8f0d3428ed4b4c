// Owns the writing of drawings: shapes as SVG text, black on white, in millimetres.

/** The family that a drawing's letters are in; the press has it. */
export const LETTERS = "Atkinson Hyperlegible Next, Noto Sans";

export const escaped = (text: string): string =>
  text.replace(/[&<>"]/g, (sign) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[sign] as string);

/** Hundredths of a millimetre are finer than any printer. */
export const mm = (value: number): string => String(Number(value.toFixed(2)));

export const line = (
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  more = 'stroke="#000" stroke-width=".25"',
): string => `<line x1="${mm(x1)}" y1="${mm(y1)}" x2="${mm(x2)}" y2="${mm(y2)}" ${more}/>`;

export const rect = (x: number, y: number, wide: number, high: number, more: string): string =>
  `<rect x="${mm(x)}" y="${mm(y)}" width="${mm(wide)}" height="${mm(high)}" ${more}/>`;

export const circle = (x: number, y: number, r: number, more: string): string =>
  `<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(r)}" ${more}/>`;

/** A text whose base line is at y; size in millimetres. */
export const words = (x: number, y: number, size: number, text: string, more = ""): string =>
  `<text x="${mm(x)}" y="${mm(y)}" font-size="${mm(size)}" ${more}>${escaped(text)}</text>`;

/** Roughly how wide a text is: letters of this family are a little over half as wide as they are high. */
export const widthOf = (text: string, size: number): number => [...text].length * size * 0.54;

/** A text about the middle x, on white, so that no line of the drawing runs through it. */
export const onWhite = (x: number, y: number, size: number, text: string, more = ""): string => {
  const wide = widthOf(text, size) + 0.4 * size;
  return (
    rect(x - wide / 2, y - 0.85 * size, wide, 1.1 * size, 'fill="#fff"') +
    words(x, y, size, text, `text-anchor="middle" ${more}`)
  );
};

/** No smaller is a text set to keep to its width, millimetres: a good five points. */
const SMALLEST = 1.8;

/** A text set smaller to keep to a width; what is longer still is cut, with an ellipsis. */
export const fitted = (text: string, size: number, wide: number): { readonly text: string; readonly size: number } => {
  const kept = Math.min(size, Math.max(SMALLEST, (size * wide) / widthOf(text, size)));
  const most = Math.floor(wide / (kept * 0.54) + 1e-9);
  const letters = [...text];
  const cut = letters
    .slice(0, Math.max(0, most - 1))
    .join("")
    .trimEnd();
  return { text: letters.length <= most ? text : `${cut}…`, size: kept };
};

export const drawing = (wide: number, high: number, parts: readonly string[]): string =>
  [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(wide)}mm" height="${mm(high)}mm" viewBox="0 0 ${mm(wide)} ${mm(high)}" font-family="${LETTERS}" fill="#000">`,
    ...parts,
    "</svg>",
  ].join("\n");
