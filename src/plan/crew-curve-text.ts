// Owns the curve of a job as a plot in text and as a drawing: a bar to the time found, its full part to the bound that none can be below.

import { lasting } from "./clock-time.ts";
import type { CrewCurve, CurvePoint, Due } from "./crew-curve.ts";

/** Columns of the longest bar. */
const BAR = 40;

const drawn = (curve: CrewCurve): number => Math.max(1, ...curve.points.map(({ elapsed }) => elapsed ?? 0));

const WIDTH = 100;

/** Words in lines, the others under the first. */
const wrap = (head: string, text: string): string => {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= WIDTH - head.length)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines.map((line, index) => `${index === 0 ? head : " ".repeat(head.length)}${line}`).join("\n");
};

const sayPoint = ({ people, elapsed, bound, why, status }: CurvePoint, most: number, knee: boolean): string => {
  const count = String(people).padStart(4);
  if (elapsed === undefined || bound === undefined)
    return wrap(`${count}  `, status === "unknown" ? "nothing found in the time" : `no: ${why ?? "it cannot be done"}`);
  const sure = Math.round((bound / most) * BAR);
  const bar = `${"█".repeat(sure)}${"░".repeat(Math.max(0, Math.round((elapsed / most) * BAR) - sure))}`;
  const proof = status === "optimal" ? "proved" : `none below ${lasting(bound)}`;
  return `${count}  ${lasting(elapsed).padStart(11)}  ${bar}  ${proof}${knee ? "  ◄ the knee" : ""}`;
};

const people = (count: number): string => `${count} ${count === 1 ? "person" : "people"}`;

const sayDue = ({ minutes, people: enough, fewerCannot }: Due, points: readonly CurvePoint[]): string => {
  const time = lasting(minutes);
  const last = points.at(-1)?.people ?? 0;
  if (enough === undefined) {
    const sure = points.every(({ status, bound }) => status === "infeasible" || (bound ?? 0) > minutes);
    return sure
      ? `Done in ${time}: not with up to ${people(last)}, that is proved.`
      : `Done in ${time}: not found with up to ${people(last)}. Longer, --seconds 60, may find it.`;
  }
  const found = `Done in ${time}: ${people(enough)} ${enough === 1 ? "is" : "are"} enough`;
  if (fewerCannot === undefined) return `${found}.`;
  return fewerCannot
    ? `${found}, and ${people(enough - 1)} cannot: that is proved.`
    : `${found}; whether ${people(enough - 1)} can is not known.`;
};

/** The curve as text. */
export const writeCrewCurve = (curve: CrewCurve): string => {
  const { knee, points, spares, sparedWith } = curve;
  const most = drawn(curve);
  const before = points.find(({ people }) => people === sparedWith)?.elapsed;
  return [
    `${curve.vehicle}: ${curve.jobs.map((job) => job.label).join("; ")}`,
    ...(curve.note === undefined ? [] : [curve.note]),
    "",
    "people    elapsed   (█ no schedule is shorter than this, ░ found, not known to be the shortest)",
    ...points.map((point) => sayPoint(point, most, point.people === knee)),
    "",
    curve.due !== undefined
      ? sayDue(curve.due, points)
      : knee === undefined
        ? "Each further person spares a twentieth of the time or more: no knee so far."
        : `The knee: from ${knee} ${knee === 1 ? "person" : "people"} on, one more spares less than a twentieth of the time.`,
    ...(spares.length === 0 || before === undefined
      ? []
      : ["", `One more of what is busy longest, with ${sparedWith} ${sparedWith === 1 ? "person" : "people"}`]),
    ...spares.map(({ tool, count, elapsed, bound, taken }) => {
      const spared = (before ?? elapsed) - elapsed;
      // A search that was stopped finds now this, now that: only what needs the tool is put down to it.
      const says =
        taken && spared > 0
          ? `${lasting(spared)} less than was found with ${count - 1}: ${lasting(elapsed)}`
          : "spares nothing that was found";
      return `  ${count} × ${tool}: ${says}; none below ${lasting(bound)}`;
    }),
    "",
    "Everybody can do anything in this; shifts and breaks are left out. unmoor plan --crew FILE takes them in.",
  ].join("\n");
};

const inXml = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");

/** The curve as SVG text, black on white: the time found as a line, down to the bound a hatched band. */
export const drawCrewCurve = (curve: CrewCurve): string => {
  const [width, height, left, right, top, bottom] = [760, 440, 92, 54, 84, 52];
  const shown = curve.points.filter((point) => point.elapsed !== undefined);
  const most = drawn(curve);
  const first = curve.points[0]?.people ?? 1;
  const last = Math.max(curve.points.at(-1)?.people ?? 1, first + 1);
  const x = (people: number) => left + ((people - first) / (last - first)) * (width - left - right);
  const y = (minutes: number) => height - bottom - (minutes / most) * (height - top - bottom);
  const p = (people: number, minutes: number) => `${x(people).toFixed(1)} ${y(minutes).toFixed(1)}`;
  const step = [10, 15, 30, 60, 120, 240, 480, 960, 1440].find((one) => most / one <= 7) ?? 2880;
  const grid = Array.from({ length: Math.floor(most / step) + 1 }, (_, index) => index * step).map(
    (minutes) =>
      `<path d="M${left} ${y(minutes).toFixed(1)}H${width - right}" stroke="#ddd"/><text x="${left - 8}" y="${(y(minutes) + 4).toFixed(1)}" text-anchor="end">${inXml(lasting(minutes))}</text>`,
  );
  const found = shown.map(({ people, elapsed }) => p(people, elapsed ?? 0));
  const under = shown.toReversed().map(({ people, bound }) => p(people, bound ?? 0));
  const marks = curve.points.map(({ people, elapsed, status }) => {
    const label = `<text x="${x(people).toFixed(1)}" y="${height - bottom + 20}" text-anchor="middle">${people}</text>`;
    if (elapsed === undefined)
      return `${label}<text x="${x(people).toFixed(1)}" y="${height - bottom - 8}" text-anchor="middle">cannot</text>`;
    const knee =
      people === curve.knee
        ? `<text x="${x(people).toFixed(1)}" y="${(y(elapsed) - 26).toFixed(1)}" text-anchor="middle" font-weight="600">the knee</text>`
        : "";
    return `${label}<circle cx="${x(people).toFixed(1)}" cy="${y(elapsed).toFixed(1)}" r="4.5" fill="${status === "optimal" ? "#111" : "#fff"}" stroke="#111" stroke-width="1.5"/><text x="${x(people).toFixed(1)}" y="${(y(elapsed) - 11).toFixed(1)}" text-anchor="middle">${inXml(lasting(elapsed))}</text>${knee}`;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" font-family="Noto Sans, DejaVu Sans, Helvetica, Arial, sans-serif" font-size="12" fill="#111">
<title>${inXml(`${curve.vehicle}: elapsed time by people`)}</title>
<defs><pattern id="h" width="8" height="8" patternUnits="userSpaceOnUse"><path d="M-2 10 10 -2M-2 2 2 -2M6 10 10 6" stroke="#999"/></pattern></defs>
<rect width="${width}" height="${height}" fill="#fff"/>
<text x="14" y="26" font-size="16" font-weight="600">${inXml(`${curve.vehicle}: ${curve.jobs.map((job) => job.label).join("; ")}`)}</text>
<text x="14" y="46">Elapsed time by people; hatched: what may still be spared at most; filled: proved the shortest</text>
${grid.join("\n")}
${found.length > 1 ? `<path d="M${[...found, ...under].join("L")}Z" fill="url(#h)"/><path d="M${found.join("L")}" fill="none" stroke="#111" stroke-width="1.5"/>` : ""}
${marks.join("\n")}
<text x="${((left + width - right) / 2).toFixed(1)}" y="${height - 12}" text-anchor="middle">people</text>
</svg>
`;
};
