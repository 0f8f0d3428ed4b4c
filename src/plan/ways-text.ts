// Owns the words and the drawing of the ways to mend side by side.

import { lasting } from "./clock-time.ts";
import type { WayCompared, Ways } from "./ways.ts";

const COLUMN = 22;
const HEAD = 26;

const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;
const cell = (text: string): string => text.padStart(COLUMN);

const row = (head: string, ways: readonly WayCompared[], of: (way: WayCompared) => string | undefined): string =>
  `${head.padEnd(HEAD)}${ways.map((way) => cell(of(way) ?? "—")).join("")}`.trimEnd();

const time = (minutes: number | undefined): string | undefined =>
  minutes === undefined ? undefined : lasting(Math.round(minutes));

const NAMES = { "in place": "in place", out: "taken out", swap: "swapped" } as const;

const STATUS = { "no plan": "no plan with this crew", "not reckoned": "not reckoned: stopped before" } as const;

/** The ways as text, one column each. */
export const writeWays = (compared: Ways): string => {
  const { ways, by, runs } = compared;
  const best = ways.toSorted((a, b) => (b.first?.value ?? -1) - (a.first?.value ?? -1))[0];
  return [
    `${compared.vehicle}: which way is first, ${compared.people} ${compared.people === 1 ? "person" : "people"}, ${runs} runs`,
    ...(compared.note === undefined ? [] : [compared.note]),
    "",
    row("", ways, ({ way }) => NAMES[way]),
    ...ways.map(
      ({ way, label, status }) =>
        `${NAMES[way].padEnd(HEAD)}  ${label}${status === "reckoned" ? "" : `: ${STATUS[status]}`}`,
    ),
    "",
    row("labour, person-min", ways, ({ labour }) => labour?.toFixed(0)),
    row("parts there in", ways, ({ lead }) => (lead === undefined ? "on the shelf" : time(lead.p50))),
    row("parts there, 95 %", ways, ({ lead }) => (lead === undefined ? "on the shelf" : time(lead.p95))),
    row("planned", ways, ({ planned }) => time(planned)),
    row("mean", ways, ({ mean }) => time(mean)),
    ...[0.1, 0.5, 0.8, 0.9, 0.95].map((share) =>
      row(`done within, ${Math.round(share * 100)} %`, ways, ({ percentiles }) => {
        const found = percentiles?.find((one) => one.share === share);
        return found === undefined ? undefined : `${time(found.value)} ± ${found.error.toFixed(1)}`;
      }),
    ),
    ...(by === undefined
      ? []
      : [
          row(`done within ${lasting(by)}`, ways, (way) =>
            way.by === undefined ? undefined : `${percent(way.by.value)} ± ${(way.by.error * 100).toFixed(1)}`,
          ),
        ]),
    "",
    row("first of all", ways, ({ first }) =>
      first === undefined ? undefined : `${percent(first.value)} ± ${(first.error * 100).toFixed(1)}`,
    ),
    row("behind the first, mean", ways, ({ behind }) => time(behind)),
    "",
    ...(best?.first === undefined
      ? ["None of the ways has a plan."]
      : [`Oftenest first: ${NAMES[best.way]}, ${percent(best.first.value)} of the runs.`, ""]),
    ...compared.assumed,
  ].join("\n");
};

const inXml = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");

/** Told apart by their dashes, not by colour alone. */
const LINES = { "in place": "", out: "9 4", swap: "2 4" } as const;

/** The chance to be done over the minutes, a line for each way, as SVG text, black on white. */
export const drawWays = (compared: Ways): string => {
  const drawn = compared.ways.filter(({ curve }) => curve !== undefined);
  const points = drawn.flatMap(({ curve }) => curve ?? []).map(([minutes]) => minutes);
  const [width, height, left, right, top] = [760, 470, 64, 30, 66];
  const bottom = height - 56 - 20 * drawn.length;
  const [from, to] = [Math.min(...points), Math.max(...points)];
  const span = Math.max(to - from, 1e-9);
  const x = (minutes: number) => (left + ((minutes - from) / span) * (width - left - right)).toFixed(1);
  const y = (chance: number) => (bottom - chance * (bottom - top)).toFixed(1);
  const step =
    [5, 10, 15, 30, 60, 120, 240, 480, 960, 1440, 2880, 7200, 14_400].find((one) => span / one <= 8) ??
    Math.ceil(span / 8 / 14_400) * 14_400;
  const begin = Math.ceil(from / step) * step;
  const ticks = Array.from(
    { length: Math.max(0, Math.floor((to - begin) / step) + 1) },
    (_, index) => begin + index * step,
  );
  const stroke = (way: WayCompared) =>
    `stroke="#111" stroke-width="2" fill="none"${LINES[way.way] === "" ? "" : ` stroke-dasharray="${LINES[way.way]}"`}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" font-family="Noto Sans, DejaVu Sans, Helvetica, Arial, sans-serif" font-size="12" fill="#111">
<title>${inXml(`${compared.vehicle}: which way is first`)}</title>
<rect width="${width}" height="${height}" fill="#fff"/>
<text x="14" y="26" font-size="16" font-weight="600">${inXml(`${compared.vehicle}: which way is first`)}</text>
<text x="14" y="46">Chance to be done, ${compared.people} ${compared.people === 1 ? "person" : "people"}, ${compared.runs} runs</text>
${[0, 0.25, 0.5, 0.75, 1].map((share) => `<path d="M${left} ${y(share)}H${width - right}" stroke="#ddd"/><text x="${left - 8}" y="${Number(y(share)) + 4}" text-anchor="end">${Math.round(share * 100)} %</text>`).join("\n")}
${ticks.map((minutes) => `<path d="M${x(minutes)} ${bottom}v5" stroke="#111"/><text x="${x(minutes)}" y="${bottom + 20}" text-anchor="middle">${inXml(lasting(minutes))}</text>`).join("\n")}
${drawn.map((way) => `<path d="M${(way.curve ?? []).map(([minutes, share]) => `${x(minutes)} ${y(share)}`).join("L")}" ${stroke(way)}/>`).join("\n")}
${drawn
  .map((way, index) => {
    const at = bottom + 44 + 20 * index;
    const first = way.first === undefined ? "" : `, first in ${percent(way.first.value)}`;
    return `<path d="M${left} ${at - 4}h44" ${stroke(way)}/><text x="${left + 56}" y="${at}">${inXml(`${NAMES[way.way]}: ${way.label}${first}`)}</text>`;
  })
  .join("\n")}
</svg>
`;
};
