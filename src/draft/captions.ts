// Owns the reading of captions, WebVTT and SubRip alike: cues with their times, and every block whose time could not be read.
//
// After the parser of the W3C's "WebVTT: The Web Video Text Tracks Format" (§ 6.1 to 6.3), widened where SubRip differs: a comma
// before the milliseconds, a number above each block, braces for styles. What a player would drop for its broken time is
// kept here without one: a draft can do without a time, and not without the words.

/** One caption: its words, where they stand, when they are said. */
export interface Cue {
  /** 1 for the first of the file. */
  readonly n: number;
  /** The line of the file its text begins on, from 1. */
  readonly line: number;
  /** Seconds; absent where the time could not be read. */
  readonly start?: number;
  readonly end?: number;
  /** Its lines joined, tags and entities resolved. */
  readonly text: string;
}

export interface Captions {
  /** In the order in which they begin. */
  readonly cues: readonly Cue[];
  /** Lines whose times could not be read, or run backwards. */
  readonly odd: readonly { readonly line: number; readonly text: string }[];
  /** How many stand behind one that begins later, and how many begin before the one before them has ended. */
  readonly late: number;
  readonly overlapping: number;
}

const ARROW = /-->|(?<=\d\s)-{1,3}>|→/;
const ENTITIES: Readonly<Record<string, string>> = {
  amp: "&",
  lt: "<",
  gt: ">",
  nbsp: " ",
  quot: '"',
  apos: "'",
  lrm: "",
  rlm: "",
};

const hasArrow = (line: string): boolean => (line.includes(">") || line.includes("→")) && ARROW.test(line);

/** Whether a text is captions: it says so, or has a line with two times and an arrow. */
export const isCaptions = (text: string): boolean =>
  /^\uFEFF?WEBVTT(?=[ \t\r\n]|$)/.test(text) || /^[^\S\n]*\d[\d:.,]*\s*(-->|->|→)\s*\d/m.test(text);

/** Reads captions. Never throws; a text without any gives no cues. */
export function readCaptions(text: string): Captions {
  const lines = text
    .replace(/^\uFEFF/, "")
    .replaceAll("\0", "\uFFFD")
    .split(/\r\n|\r|\n/);
  const cues: Cue[] = [];
  const odd: { line: number; text: string }[] = [];
  let i = /^WEBVTT/.test(lines[0] ?? "") ? skipBlock(lines, 0) : 0;
  while (i < lines.length) {
    if (isBlank(lines[i])) {
      i += 1;
      continue;
    }
    if (/^(NOTE|STYLE|REGION)(\s|$)/.test(lines[i] ?? "") && !hasArrow(`${lines[i]}${lines[i + 1] ?? ""}`)) {
      i = skipBlock(lines, i);
      continue;
    }
    // The line of the times, or the one under the block's name or number.
    const timed = hasArrow(lines[i] ?? "") ? i : hasArrow(lines[i + 1] ?? "") ? i + 1 : undefined;
    const from = timed === undefined ? i : timed + 1;
    let to = from;
    while (to < lines.length && !isBlank(lines[to]) && !hasArrow(lines[to] ?? "")) to += 1;
    // A number alone before the next times belongs to them: the blank line between was lost.
    const next = to < lines.length && hasArrow(lines[to] ?? "") && /^\d+$/.test(lines[to - 1]?.trim() ?? "");
    const last = next && to - 1 >= from ? to - 1 : to;
    const times = timed === undefined ? undefined : readTimes(lines[timed] ?? "");
    if (times === undefined || times.end < times.start)
      odd.push({ line: (timed ?? i) + 1, text: (lines[timed ?? i] ?? "").slice(0, 80) });
    const said = lines.slice(from, last).map(plainText).join(" ").replace(/\s+/g, " ").trim();
    if (said !== "") cues.push({ n: cues.length + 1, line: from + 1, ...times, text: said });
    i = Math.max(last, i + 1);
  }
  return { ...inOrder(cues), odd };
}

/** As a player has them (the HTML Standard's "text track cue order"; a WebVTT file must have them so, § 4.1): by their beginnings, of equal ones the one that ends last; one without a time behind the one it stands behind. */
function inOrder(cues: readonly Cue[]): Pick<Captions, "cues" | "late" | "overlapping"> {
  let [start, until, latest, late] = [0, 0, 0, 0];
  const timed = cues.map((cue) => {
    start = cue.start ?? start;
    until = cue.end ?? until;
    if (start < latest) late += 1;
    latest = Math.max(latest, start);
    return { cue, start, until };
  });
  const ordered = timed.toSorted((a, b) => a.start - b.start || b.until - a.until).map(({ cue }) => cue);
  let end = 0;
  let overlapping = 0;
  for (const cue of ordered) {
    if (cue.start !== undefined && cue.start < end) overlapping += 1;
    end = cue.end ?? end;
  }
  return { cues: ordered, late, overlapping };
}

const isBlank = (line: string | undefined): boolean => line === undefined || line.trim() === "";

function skipBlock(lines: readonly string[], from: number): number {
  let i = from + 1;
  while (i < lines.length && !isBlank(lines[i]) && !hasArrow(lines[i] ?? "")) i += 1;
  // Where times follow at once, the line before them may be their name; it is passed over as part of this block.
  return i;
}

const TIME = /^(?:(\d+):)?([0-5]?\d):([0-5]\d)[.,](\d{3})(?!\d)/;

function readTimes(line: string): { readonly start: number; readonly end: number } | undefined {
  const arrow = line.indexOf("-->");
  if (arrow < 0) return undefined;
  const start = readTime(line.slice(0, arrow).trim());
  const end = readTime(line.slice(arrow + 3).trim());
  return start === undefined || end === undefined ? undefined : { start, end };
}

/** "[hours:]minutes:seconds.milliseconds" as the W3C's parser collects it. */
function readTime(written: string): number | undefined {
  const [, hours = "0", minutes = "", seconds = "", milliseconds = ""] = TIME.exec(written) ?? [];
  if (minutes.length !== 2) return undefined;
  return Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds) + Number(milliseconds) / 1000;
}

/** A line without tags, styles and entities. */
function plainText(line: string): string {
  if (!/[<{&]/.test(line)) return line;
  return line
    .replace(/<[^>]*(>|$)/g, "")
    .replace(/\{\\[^}]*\}/g, "")
    .replace(
      /&(#x?[\da-f]+|\w+);/gi,
      (whole, name: string) => ENTITIES[name.toLowerCase()] ?? character(name) ?? whole,
    );
}

function character(name: string): string | undefined {
  if (!name.startsWith("#")) return undefined;
  const code = /^#x/i.test(name) ? Number.parseInt(name.slice(2), 16) : Number.parseInt(name.slice(1), 10);
  return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : "\uFFFD";
}
