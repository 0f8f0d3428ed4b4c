// Owns the pack as a web page: the same content for whoever reads with a screen reader, or without a printer. One file, no script.

import { escaped } from "./drawing.ts";
import type { Block, Cell, Pack } from "./sheet.ts";

const STYLE = `body{font:16px/1.45 "Atkinson Hyperlegible Next",system-ui,sans-serif;max-width:60rem;margin:1rem auto;padding:0 1rem;color:#000;background:#fff}
table{border-collapse:collapse;width:100%;margin:.5rem 0}th,td{border:1px solid #767676;padding:.25rem .5rem;text-align:left;vertical-align:top}
section{border-top:2px solid #000;margin-top:2rem}.caution{border:2px solid #000;padding:.25rem .75rem;margin:.5rem 0}
.step{border-top:1px solid #767676;padding:.5rem 0}dl{display:grid;grid-template-columns:minmax(0,max-content) minmax(0,1fr);gap:0 .75rem;margin:.25rem 0}dd{margin:0}
svg{max-width:100%;height:auto}.wide{overflow-x:auto}h1,h2,h3,h4,dd,p{overflow-wrap:anywhere}.small{font-size:.9em}@media print{section{break-before:page}}`;

/** A table that is wider than a phone is moved by itself, by whoever has only keys too. */
const wide = (table: string): string => `<div class="wide" tabindex="0">${table}</div>`;

/** Whether there is something to read in it: a box to tick says nothing to whoever only reads. */
const isSaid = (cell: Cell | undefined): boolean =>
  typeof cell === "string" || (cell !== undefined && ("strong" in cell || "title" in cell));

const idOf = (sheet: number): string => `sheet-${sheet + 1}`;

const cellText = (cell: Cell): string => {
  if (typeof cell === "string") return escaped(cell);
  if ("strong" in cell) return `<strong>${escaped(cell.strong)}</strong>`;
  return "title" in cell ? `<a href="#${idOf(cell.sheet)}">${escaped(cell.title)}</a>` : "";
};

export function packPage(pack: Pack): string {
  return [
    "<!doctype html>",
    `<html lang="${pack.lang}">`,
    `<head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${escaped(pack.title)}</title><style>${STYLE}</style></head>`,
    "<body>",
    `<header><h1>${escaped(pack.title)}</h1><p>${pack.head.map(escaped).join(" · ")}</p></header>`,
    "<main>",
    ...pack.sheets.map(({ title, blocks }, n) => {
      const id = idOf(n);
      return `<section aria-labelledby="${id}"><h2 id="${id}">${escaped(title)}</h2>\n${blocks.map((block) => blockPage(block)).join("\n")}\n</section>`;
    }),
    "</main>",
    "</body></html>",
    "",
  ].join("\n");
}

function blockPage(block: Block): string {
  switch (block.kind) {
    case "heading":
      return `<h${block.level + 1}>${escaped(block.text)}${block.aside === undefined ? "" : ` <small>${escaped(block.aside)}</small>`}</h${block.level + 1}>`;
    case "text":
      return `<p${block.small === true ? ' class="small"' : ""}>${escaped(block.text)}</p>`;
    case "caution":
      return caution(block.word, block.text);
    case "step":
      return [
        `<div class="step">${block.cautions.map(({ word, text }) => caution(word, text)).join("")}`,
        `<p><strong>${block.number}. ${escaped(block.title)}</strong>${block.code === undefined ? "" : ` <code>${block.code}</code>`} ${block.meta.map(escaped).join(", ")}</p>`,
        block.facts.length === 0
          ? ""
          : `<dl>${block.facts.map(({ name, text }) => `<dt>${escaped(name)}</dt><dd>${escaped(text)}</dd>`).join("")}</dl>`,
        block.looks.length === 0 ? "" : `<ul>${block.looks.map((look) => `<li>${escaped(look)}</li>`).join("")}</ul>`,
        "</div>",
      ].join("");
    case "table": {
      const headed = block.columns.some(({ title }) => title !== "");
      const columns = block.columns.map((_, n) => n).filter((n) => headed || block.rows.some((row) => isSaid(row[n])));
      const head = headed
        ? `<thead><tr>${columns.map((n) => `<th scope="col">${escaped(block.columns[n]?.title ?? "")}</th>`).join("")}</tr></thead>`
        : "";
      return wide(
        `<table>${head}<tbody>${block.rows
          .map((row) => `<tr>${columns.map((n) => `<td>${cellText(row[n] ?? "")}</td>`).join("")}</tr>`)
          .join("")}</tbody></table>`,
      );
    }
    case "figures":
      return block.figures.map(blockPage).join("");
    case "figure":
      return `<figure>${block.svg.replace("<svg ", `<svg role="img" aria-label="${escaped(block.alt)}" `)}${block.caption === undefined ? "" : `<figcaption>${escaped(block.caption)}</figcaption>`}</figure>`;
    case "signatures":
      return wide(
        `<table><thead><tr><td></td>${block.heads.map((head) => `<th scope="col">${escaped(head)}</th>`).join("")}</tr></thead><tbody>${block.places.map((place) => `<tr><th scope="row">${escaped(place)}</th>${block.heads.map(() => "<td></td>").join("")}</tr>`).join("")}</tbody></table>`,
      );
    case "qr":
      return `<p>${escaped(block.name)}</p>`;
    case "faces":
      return wide(
        `<table><tbody>${block.faces
          .map(
            ({ code, half = "", name, lines, address }) =>
              `<tr><th scope="row"><a href="${escaped(address)}">${escaped(`${code} ${half}`.trim())}</a></th><td>${escaped(name)}</td><td>${lines.map(escaped).join("<br>")}</td></tr>`,
          )
          .join("")}</tbody></table>`,
      );
    case "page":
      return "";
  }
}

const caution = (word: string, text: string): string =>
  `<p class="caution"><strong>${escaped(word)}</strong> ${escaped(text)}</p>`;
