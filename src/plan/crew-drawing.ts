// Owns the crew's schedule as a drawing: a row for each person, the states of the vehicle below, on one sheet that prints in black. Where somebody works is told by the
// pattern of the bar, not by a colour.

import { clockTime, lasting } from "./clock-time.ts";
import type { CrewPlan } from "./crew-plan.ts";

/** Units of the drawing; an A3 sheet lying is about 420 : 297. */
const SHEET = { width: 1480, left: 150, right: 30, top: 92, row: 66, bar: 48, state: 16, gap: 30 };

const inXml = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");

/** Two decimals: finer than print. */
const n = (value: number): string => String(Math.round(value * 100) / 100);

/** Patterns that stay apart in black print: plain, slants, lines, dots, crosses, in order of how often they are wanted. */
const PATTERNS: readonly string[] = [
  '<rect width="8" height="8" fill="#fff"/>',
  '<rect width="8" height="8" fill="#fff"/><path d="M-2 10 10 -2M-2 2 2 -2M6 10 10 6" stroke="#444" stroke-width="1"/>',
  '<rect width="8" height="8" fill="#fff"/><circle cx="2" cy="2" r="1.1" fill="#333"/><circle cx="6" cy="6" r="1.1" fill="#333"/>',
  '<rect width="8" height="8" fill="#fff"/><path d="M0 2H8M0 6H8" stroke="#555" stroke-width="1"/>',
  '<rect width="8" height="8" fill="#fff"/><path d="M-2 -2 10 10M-2 6 2 10M6 -2 10 2" stroke="#444" stroke-width="1"/>',
  '<rect width="8" height="8" fill="#a8a8a8"/>',
  '<rect width="8" height="8" fill="#fff"/><path d="M2 0V8M6 0V8" stroke="#555" stroke-width="1"/>',
  '<rect width="8" height="8" fill="#fff"/><path d="M-2 10 10 -2M-2 -2 10 10" stroke="#555" stroke-width=".9"/>',
  '<rect width="8" height="8" fill="#bdbdbd"/><circle cx="4" cy="4" r="1.4" fill="#fff"/>',
  '<rect width="8" height="8" fill="#fff"/><path d="M0 4H8M4 0V8" stroke="#666" stroke-width=".9"/>',
];

/** What is done anywhere: a ripple, which no position has. Who is away: pale and without an outline. */
const ANYWHERE =
  '<rect width="8" height="8" fill="#fff"/><path d="M0 5 4 1 8 5" fill="none" stroke="#777" stroke-width="1"/>';
const AWAY = "#ececec";

/** Minutes between the marks of the time line, so that some twenty stand on a sheet. */
const tickOf = (elapsed: number): number =>
  [5, 10, 15, 30, 60, 120, 240, 480, 1440].find((one) => elapsed / one <= 24) ?? 2880;

/** Width of a letter and height of a line of what is written into a bar. */
const WRITTEN = 5.9;
const LINE = 12;
/** Letters of a line left of the rows. */
const LEFT = 22;
/** Fewer letters of a name say nothing. */
const TELLING = 9;

/** A name broken into lines of so many letters; what finds no room is left out with a mark. */
const broken = (text: string, letters: number, most: number): readonly string[] => {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const line = lines.at(-1);
    if (line !== undefined && line.length + 1 + word.length <= letters) lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  if (lines.length <= most && lines.every((line) => line.length <= letters)) return lines;
  const kept: string[] = [];
  for (const line of lines) {
    if (kept.length === most || line.length > letters) break;
    kept.push(line);
  }
  const last = kept.at(-1);
  if (last === undefined) return letters < TELLING ? [] : [`${text.slice(0, letters - 1).trimEnd()}…`];
  kept[kept.length - 1] = last.length < letters ? `${last}…` : `${last.slice(0, letters - 1).trimEnd()}…`;
  return kept;
};

/** The lines for a bar of this width, none where they would tell nothing. */
const linesFor = (text: string, room: number, most: number): readonly string[] => {
  const lines = broken(text, Math.floor(room / WRITTEN), most);
  const shown = lines.join(" ");
  return shown === text || shown.length > TELLING ? lines : [];
};

interface Bar {
  readonly from: number;
  readonly until: number;
  readonly label: string;
  readonly position: string | undefined;
}

/** A night is drawn as a gap of so many minutes. */
const NIGHT = 60;
const DRAWN = 12;

/** Spells of an hour and more in which everybody is away. */
const nightsOf = ({ away, crew }: CrewPlan): readonly { readonly from: number; readonly until: number }[] => {
  const [first, ...others] = crew.people.map(({ id }) => away.filter((one) => one.person === id));
  return others
    .reduce(
      (all, list) =>
        all.flatMap((one) =>
          list.map((other) => ({
            ...one,
            from: Math.max(one.from, other.from),
            until: Math.min(one.until, other.until),
          })),
        ),
      first ?? [],
    )
    .filter(({ from, until }) => until - from >= NIGHT);
};

/** The drawing as SVG text: black on white, its fonts whatever the reader has of sans. */
export const drawCrewPlan = (plan: CrewPlan): string => {
  const { width, left, right, top, row, bar, state, gap } = SHEET;
  const { people } = plan.crew;
  const begins = plan.now;
  const ends = begins + plan.elapsed;
  const nights = nightsOf(plan);
  /** Minutes on the sheet: a night takes little of it. */
  const drawn = (minute: number) =>
    nights.reduce((sum, { from, until }) => {
      const within = Math.min(Math.max(minute - from, 0), until - from);
      return sum - within + (within / (until - from)) * DRAWN;
    }, minute - begins);
  const total = Math.max(drawn(ends), 1);
  const x = (minute: number) => left + (drawn(Math.max(minute, begins)) / total) * (width - left - right);
  const at = (minute: number) => clockTime(minute, plan.crew.begins);
  const patternOf = new Map(plan.positions.map(({ id }, index) => [id, index % PATTERNS.length]));
  const states = plan.states.filter(({ id }) => plan.changes.some((change) => change.state === id));
  const works = [...plan.steps, ...plan.changes];
  const keys = [
    ...plan.positions.map(({ id, label }) => ({ fill: `url(#p${patternOf.get(id) ?? 0})`, label })),
    ...(works.some(({ position, people: by }) => position === undefined && by.length > 0)
      ? [{ fill: "url(#any)", label: "anywhere" }]
      : []),
    ...(plan.away.length > 0 ? [{ fill: AWAY, label: "away" }] : []),
    ...(states.length > 0 ? [{ fill: "#555", label: "so it is; slanted: being changed" }] : []),
  ];
  const statesTop = top + people.length * row + 22;
  const legendTop = statesTop + states.length * gap + 24;
  const columns = 4;
  const height = legendTop + Math.ceil(keys.length / columns) * 24 + 34;

  const text = (left: number, down: number, content: string, more = "") =>
    `<text x="${n(left)}" y="${n(down)}"${more}>${inXml(content)}</text>`;
  const rect = (from: number, until: number, down: number, tall: number, fill: string, more = "") =>
    `<rect x="${n(x(from))}" y="${n(down)}" width="${n(Math.max(0.6, x(until) - x(from)))}" height="${tall}" fill="${fill}"${more}/>`;
  const titled = (shape: string, title: string) => `<g><title>${inXml(title)}</title>${shape}</g>`;

  /** Lines about a height, on white so that a pattern leaves them legible. */
  const written = (across: number, middle: number, lines: readonly string[], more = ""): string => {
    if (lines.length === 0) return "";
    const longest = Math.max(...lines.map((line) => line.length));
    const above = middle - (lines.length * LINE) / 2;
    const box = `<rect x="${n(across - 1)}" y="${n(above - 1)}" width="${n(longest * WRITTEN + 2)}" height="${lines.length * LINE + 2}" fill="#fff" fill-opacity=".88"/>`;
    return `${box}${lines.map((line, place) => text(across, above + place * LINE + 9.5, line, ` class="b"${more}`)).join("")}`;
  };
  const placeOf = (position: string | undefined) => plan.positions.find((one) => one.id === position)?.label;

  const barsOf = (person: string): readonly Bar[] => [
    ...plan.steps
      .filter((step) => step.people.includes(person) && step.free > begins)
      .map((step) => ({ from: step.start, until: step.free, label: step.label, position: step.position })),
    ...plan.changes
      .filter((change) => change.people.includes(person) && change.end > begins)
      .map((change) => ({ from: change.start, until: change.end, label: change.label, position: change.position })),
  ];

  const ticks: string[] = [];
  const every = tickOf(total);
  let reached = 0;
  const offset = plan.crew.begins ?? 0;
  for (let minute = Math.ceil((begins + offset) / every) * every - offset; minute <= ends; minute += every) {
    if (nights.some(({ from, until }) => from < minute && minute < until)) continue;
    if (x(minute) - reached < 44) continue;
    reached = x(minute);
    ticks.push(
      `<path d="M${n(x(minute))} ${top - 8}V${n(legendTop - 22)}" stroke="#ccc" stroke-width=".7"/>`,
      text(x(minute), top - 14, at(minute).replace(/^day \d+ /, ""), ' text-anchor="middle" class="s"'),
    );
  }

  const rows = people.map(({ id, label, skills }, index) => {
    const down = top + index * row;
    const away = plan.away.filter((one) => one.person === id);
    const mine = barsOf(id).toSorted((one, two) => one.from - two.from);
    const roomOf = ({ from, until }: Pick<Bar, "from" | "until">): number => {
      // A break lies over the bar, and would over its name.
      const end = away.find((one) => one.from > from && one.from < until)?.from ?? until;
      return x(end) - x(from) - 6;
    };
    const names = mine.map((one) =>
      linesFor(one.label.replace(/^(Release|Refit|Loosen|Tighten): /, ""), roomOf(one), 3),
    );
    const bars = mine.map(({ from, until, label: says, position }) => {
      const fill = position === undefined ? "url(#any)" : `url(#p${patternOf.get(position) ?? 0})`;
      const where = placeOf(position);
      const title = `${at(from)}–${at(until)} ${says}${where === undefined ? "" : `, ${where}`}`;
      return titled(rect(from, until, down, bar, fill, ' stroke="#111" stroke-width=".8"'), title);
    });
    const named = mine.map(({ from }, place) => written(x(from) + 3, down + bar / 2, names[place] ?? []));
    // Where names find no room, the place of a run of works is told.
    const runs: { from: number; until: number; position: string }[] = [];
    for (const [place, { from, until, position }] of mine.entries()) {
      if (position === undefined || (names[place]?.length ?? 0) > 0) continue;
      const last = runs.at(-1);
      if (last !== undefined && last.position === position && from - last.until < 0.1) last.until = until;
      else runs.push({ from, until, position });
    }
    for (const run of runs) {
      const lines = linesFor(placeOf(run.position) ?? "", roomOf(run), 2);
      if (lines.join(" ") === placeOf(run.position))
        named.push(written(x(run.from) + 3, down + bar / 2, lines, ' font-style="italic"'));
    }
    return [
      text(14, down + bar / 2 - 4, label, ' class="n"'),
      ...broken(skills.join(", "), LEFT, 2).map((line, place) =>
        text(14, down + bar / 2 + 10 + place * LINE, line, ' class="s"'),
      ),
      `<path d="M${left} ${n(down + bar)}H${width - right}" stroke="#111" stroke-width=".6"/>`,
      ...bars,
      ...named,
      ...away.map((one) =>
        titled(
          `${rect(one.from, one.until, down, bar, AWAY)}<path d="M${n(x(one.from))} ${n(down)}V${n(down + bar)}M${n(x(one.until))} ${n(down)}V${n(down + bar)}" stroke="#777" stroke-width=".7" stroke-dasharray="2 2"/>${written(x(one.from) + 3, down + bar / 2, linesFor("away", x(one.until) - x(one.from) - 6, 1))}`,
          `${at(one.from)}–${at(one.until)} away`,
        ),
      ),
    ].join("\n");
  });

  const spells = states.map(({ id, label }, index) => {
    const down = statesTop + index * gap;
    const changes = plan.changes.filter((change) => change.state === id);
    const bars = changes.flatMap((change, place) => {
      const next = changes[place + 1];
      const turn = titled(
        `<path d="M${n(x(change.start))} ${n(change.to ? down + state : down)}L${n(x(change.end))} ${n(change.to ? down : down + state)}${change.to ? `V${n(down + state)}` : `H${n(x(change.start))}V${n(down + state)}`}Z" fill="#999"/>`,
        `${at(change.start)}–${at(change.end)} ${change.label}`,
      );
      return change.to
        ? [
            turn,
            titled(
              rect(change.end, next?.start ?? ends, down, state, "#555"),
              `${label} ${at(change.end)}–${at(next?.start ?? ends)}`,
            ),
          ]
        : [turn];
    });
    return [
      ...broken(label, LEFT, 2).map((line, place, lines) =>
        text(14, down + 12 + place * LINE - (lines.length - 1) * 5, line, ' class="s"'),
      ),
      `<path d="M${left} ${n(down + state)}H${width - right}" stroke="#999" stroke-width=".6"/>`,
      ...bars,
    ].join("\n");
  });

  const legend = keys.map(({ fill, label }, index) => {
    const across = left + (index % columns) * ((width - left - right) / columns);
    const down = legendTop + Math.floor(index / columns) * 24;
    return `<rect x="${n(across)}" y="${n(down)}" width="30" height="15" fill="${fill}" stroke="#111" stroke-width=".8"/>${text(across + 38, down + 12, label, ' class="s"')}`;
  });

  const proof =
    plan.status === "optimal"
      ? "proved the shortest for this crew"
      : `no schedule of this crew takes less than ${lasting(plan.bound)}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${n(height)}" width="${width}" height="${n(height)}" font-family="Noto Sans, DejaVu Sans, Helvetica, Arial, sans-serif" font-size="12" fill="#111">
<title>${inXml(`${plan.vehicle}: who does what, when`)}</title>
<style>.h{font-size:20px;font-weight:600}.n{font-size:14px;font-weight:600}.s{font-size:11px}.b{font-size:10.5px}</style>
<defs>${PATTERNS.map((inside, index) => `<pattern id="p${index}" width="8" height="8" patternUnits="userSpaceOnUse">${inside}</pattern>`).join("")}<pattern id="any" width="8" height="8" patternUnits="userSpaceOnUse">${ANYWHERE}</pattern></defs>
<rect width="${width}" height="${n(height)}" fill="#fff"/>
${text(14, 30, `${plan.vehicle}: ${plan.jobs.map((job) => job.label).join("; ")}`, ' class="h"')}
${text(14, 52, `${lasting(plan.elapsed)}, ${at(begins)} to ${at(ends)}; ${proof}`)}
${ticks.join("\n")}
${rows.join("\n")}
${spells.join("\n")}
${legend.join("\n")}
${text(14, height - 10, plan.note ?? "", ' class="s"')}
</svg>
`;
};
