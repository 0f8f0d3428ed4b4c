// Owns rows of cells as spreadsheets keep them: comma, semicolon, tab or bar between cells, quotes around what holds any of them (RFC 4180).

/** The rows of a table that are not empty. Each cell without the space around it. */
export function readRows(text: string): string[][] {
  const first = text.split(/\r\n|\r|\n/, 1)[0] ?? "";
  const mark = ["\t", ";", "|", ","].find((one) => first.includes(one)) ?? ",";
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = "";
  let quoted = false;
  const endRow = () => {
    row.push(cell.trim());
    if (row.some((one) => one !== "")) rows.push(row);
    row = [];
    cell = "";
  };
  for (let i = 0; i < text.length; i += 1) {
    const c = text[i] ?? "";
    if (quoted) {
      if (c !== '"') cell += c;
      else if (text[i + 1] === '"') {
        cell += c;
        i += 1;
      } else quoted = false;
    } else if (c === '"' && cell.trim() === "") {
      cell = "";
      quoted = true;
    } else if (c === mark) {
      row.push(cell.trim());
      cell = "";
    } else if (c === "\n" || c === "\r") {
      if (c === "\n" || text[i + 1] !== "\n") endRow();
    } else cell += c;
  }
  endRow();
  return rows;
}

/** Rows as a spreadsheet opens them: commas, quotes where they are needed, lines that end as RFC 4180 has it. */
export const writeRows = (rows: readonly (readonly string[])[]): string =>
  rows.map((row) => `${row.map(quoted).join(",")}\r\n`).join("");

const quoted = (cell: string): string => (/[",;|\t\r\n]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
