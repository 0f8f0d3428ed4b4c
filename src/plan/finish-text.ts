// Owns the words and the drawing of a finish: its percentiles as bars, its curve of chances, what it waits for.

import { lasting } from "./clock-time.ts";
import type { Finish } from "./finish-answer.ts";

const BAR = 44;

const percent = (share: number): string => `${Math.round(share * 100)} %`;

/** Whole minutes, an error to one decimal. */
const give = (value: number, error: number): string => `${lasting(Math.round(value))} ± ${error.toFixed(1)}`;

const people = (count: number): string => `${count} ${count === 1 ? "person" : "people"}`;

/** The finish as text. `by`: the chance of this time was asked for, and is the first of the list. */
export const writeFinish = (finish: Finish, by: number | undefined): string => {
  const most = finish.percentiles.at(-1)?.value ?? 1;
  const [asked] = finish.chances;
  const worth = finish.worth.filter(({ value, error }) => value > 2 * error);
  return [
    `${finish.vehicle}: ${finish.jobs.map(({ label }) => label).join("; ")}, ${people(finish.people)}`,
    ...(finish.note === undefined ? [] : [finish.note]),
    "",
    `Planned ${lasting(finish.planned)}. Done within, in so many of ${finish.runs} runs (± one standard error, min):`,
    ...finish.percentiles.map(
      ({ share, value, error }) =>
        `  ${percent(share).padStart(5)}  ${give(value, error).padEnd(18)} ${"█".repeat(Math.round((value / most) * BAR))}`,
    ),
    `   mean  ${give(finish.mean.value, finish.mean.error)}`,
    ...(by === undefined || asked === undefined
      ? []
      : ["", `Done within ${lasting(by)}: ${(asked.value * 100).toFixed(1)} % ± ${(asked.error * 100).toFixed(1)}`]),
    "",
    "The finish waits longest for (min in the mean, share of the runs)",
    ...finish.critical.map(
      ({ label, criticality, minutes }) =>
        `  ${minutes.toFixed(1).padStart(6)} ${percent(criticality).padStart(6)}  ${label}`,
    ),
    ...(finish.late.length === 0
      ? []
      : [
          "",
          "Would begin later after what it follows than the file allows (share of the runs): what it follows is done again first",
          ...finish.late.map(({ label, share }) => `  ${(share * 100).toFixed(1).padStart(5)} %  ${label}`),
        ]),
    "",
    ...(worth.length === 0
      ? ["No single time, were it known, would bring the 95 % sooner by more than chance."]
      : [
          "Worth knowing better: with its time for certain the 95 % would be sooner by (min)",
          ...worth.map(
            ({ label, value, error }) => `  ${`${value.toFixed(1)} ± ${error.toFixed(1)}`.padEnd(12)}  ${label}`,
          ),
        ]),
    "",
    ...finish.assumed,
  ].join("\n");
};

const inXml = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");

/** Letters of the title that fit. */
const TITLE = 78;

/** The chance to be done over the minutes, as SVG text, black on white. `by` as in `writeFinish`: marked where the curve reaches it. */
export const drawFinish = (finish: Finish, by: number | undefined): string => {
  const [width, height, left, right, top, bottom] = [760, 440, 64, 30, 84, 56];
  const curve = finish.chances.slice(by === undefined ? 0 : 1);
  const points = curve.toSorted((a, b) => a.minutes - b.minutes);
  const title = `${finish.vehicle}: ${finish.jobs.map(({ label }) => label).join("; ")}`;
  const [from, to] = [Math.min(points[0]?.minutes ?? 0, finish.planned), points.at(-1)?.minutes ?? 1];
  const x = (minutes: number) => (left + ((minutes - from) / (to - from)) * (width - left - right)).toFixed(1);
  const y = (chance: number) => (height - bottom - chance * (height - top - bottom)).toFixed(1);
  const step = [5, 10, 15, 30, 60, 120, 240, 480, 960, 1440].find((one) => (to - from) / one <= 8) ?? 2880;
  const begin = Math.ceil(from / step) * step;
  const ticks = Array.from({ length: Math.floor((to - begin) / step) + 1 }, (_, index) => begin + index * step);
  const [first] = finish.chances;
  const asked = by !== undefined && first !== undefined && by >= from && by <= to ? first : undefined;
  const marks = [0.5, 0.8, 0.95].flatMap((share) => {
    const found = finish.percentiles.find((one) => one.share === share);
    return found === undefined ? [] : [found];
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" font-family="Noto Sans, DejaVu Sans, Helvetica, Arial, sans-serif" font-size="12" fill="#111">
<title>${inXml(`${finish.vehicle}: chance to be done`)}</title>
<rect width="${width}" height="${height}" fill="#fff"/>
<text x="14" y="26" font-size="16" font-weight="600">${inXml(title.length > TITLE ? `${title.slice(0, TITLE - 1)}…` : title)}</text>
<text x="14" y="46">Chance to be done, ${people(finish.people)}, ${finish.runs} runs; dashed: as planned, ${lasting(finish.planned)}${asked === undefined ? "" : `; dotted: ${lasting(asked.minutes)}, ${percent(asked.value)}`}</text>
${[0, 0.25, 0.5, 0.75, 1].map((share) => `<path d="M${left} ${y(share)}H${width - right}" stroke="#ddd"/><text x="${left - 8}" y="${Number(y(share)) + 4}" text-anchor="end">${percent(share)}</text>`).join("\n")}
${ticks.map((minutes) => `<path d="M${x(minutes)} ${height - bottom}v5" stroke="#111"/><text x="${x(minutes)}" y="${height - bottom + 20}" text-anchor="middle">${inXml(lasting(minutes))}</text>`).join("\n")}
<path d="M${x(finish.planned)} ${top}V${height - bottom}" stroke="#111" stroke-dasharray="5 4"/>${asked === undefined ? "" : `<path d="M${x(asked.minutes)} ${y(asked.value)}V${height - bottom}" stroke="#111" stroke-dasharray="1 4" stroke-linecap="round" stroke-width="2"/>`}
<path d="M${points.map(({ minutes, value }) => `${x(minutes)} ${y(value)}`).join("L")}" fill="none" stroke="#111" stroke-width="2"/>
${marks.map(({ share, value }) => `<circle cx="${x(value)}" cy="${y(share)}" r="4" fill="#111"/><text x="${Number(x(value)) + 9}" y="${Number(y(share)) + 14}" paint-order="stroke" stroke="#fff" stroke-width="5">${percent(share)}: ${inXml(lasting(Math.round(value)))}</text>`).join("\n")}
<text x="${(left + width - right) / 2}" y="${height - 12}" text-anchor="middle">elapsed</text>
</svg>
`;
};
