// Owns the taking in of a text: what kind it is (captions, a table, a vehicle file, a procedure, prose), and its passages with their places.

import { isCaptions, readCaptions } from "./captions.ts";
import type { Phrases } from "./phrases.ts";

/** A stretch of text that is said at one place of a file. */
export interface Passage {
  readonly text: string;
  readonly file: string;
  readonly line: number;
  /** The number of its caption and its second, where it is one. */
  readonly cue?: number;
  readonly time?: number;
  /** Whether a paragraph, a step or a long silence stands before it. */
  readonly fresh: boolean;
  /** Whether nobody speaks for a breath or more before it. */
  readonly breath?: true;
}

export type Kind = "captions" | "table" | "vehicle file" | "procedure" | "prose";

export interface Taken {
  readonly kind: Kind;
  readonly passages: readonly Passage[];
  /** What could not be read, with its line; nothing of its words is lost by it. */
  readonly odd: readonly { readonly line: number; readonly text: string }[];
  /** Captions that stand behind one that begins later, and those that begin before the one before them has ended. */
  readonly late?: number;
  readonly overlapping?: number;
}

/** Why a text cannot be drafted from, and the mend. */
export interface Refusal {
  readonly what: string;
  readonly mend: string;
  /** Of a table in which none names the connections: its columns, as they are called there. */
  readonly columns?: readonly string[];
}

/** Characters; a talk of ten hours has about 600,000. */
const LIMIT = 8_000_000;
/** A silence so long begins a new sentence, whatever the recogniser wrote. */
const SILENCE = 2.5;
/** A silence so long stands between what is said in one breath and the next; recognisers leave shorter ones between any captions. */
const BREATH = 0.7;
/** How a step begins: a number, a word that numbers it, a hyphen. */
const stepOf = (called: string): RegExp =>
  new RegExp(
    `^\\s*(?:(?:(?:${called})\\s+)?\\d{1,3}(?:\\.\\d{1,3})*\\s*[.):-]|(?:${called})\\s+\\d+|[-*•‣–]\\s|#{1,6}\\s|[a-z][.)]\\s)\\s*`,
    "i",
  );

/** Takes in a text. `file` is its name, for the places; `steps` are the words that number a step. */
export function takeIn(text: string, file: string, steps: Phrases<string>): Taken | Refusal {
  if (text.length > LIMIT)
    return { what: `${file} has ${text.length} characters, and ${LIMIT} are read at most`, mend: "Split it." };
  const start = text.slice(0, 4000);
  const strange = [...start].filter((c) => isStrange(c.charCodeAt(0))).length;
  if (strange > 8 && strange > start.length / 100)
    return { what: `${file} is no text`, mend: "Name captions (.srt, .vtt), a text, or a table (.csv, .tsv)." };
  if (!/\p{L}/u.test(text)) return { what: `${file} holds no words`, mend: "Name a file with a narration or a table." };
  if (/^format:\s*unmoor\/1/m.test(text)) return { kind: "vehicle file", passages: [], odd: [] };
  if (isCaptions(text)) return takeCaptions(text, file);
  if (isTable(text)) return { kind: "table", passages: [], odd: [] };
  return takeLines(text, file, stepOf([...steps.firsts].join("|") || "step"));
}

/** A control character other than those that part lines and columns, or what no decoder could read. */
const isStrange = (code: number): boolean => (code < 32 && (code < 9 || code > 13)) || code === 0xfffd;

function takeCaptions(text: string, file: string): Taken | Refusal {
  const { cues, odd, late, overlapping } = readCaptions(text);
  if (cues.length === 0)
    return { what: `${file} has captions without words`, mend: "Look whether the recogniser heard anything." };
  let before = "";
  let end = 0;
  const passages: Passage[] = [];
  for (const cue of cues) {
    const said = withoutOverlap(before, cue.text);
    before = cue.text;
    if (said !== "")
      passages.push({
        text: said,
        file,
        line: cue.line,
        cue: cue.n,
        ...(cue.start === undefined ? {} : { time: cue.start }),
        fresh: passages.length === 0 || (cue.start !== undefined && cue.start - end > SILENCE),
        ...(cue.start !== undefined && cue.start - end >= BREATH ? { breath: true as const } : {}),
      });
    end = cue.end ?? end;
  }
  return {
    kind: "captions",
    passages,
    odd,
    ...(late === 0 ? {} : { late }),
    ...(overlapping === 0 ? {} : { overlapping }),
  };
}

/** Captions that roll say the end of the last one again: what of this one is new. */
function withoutOverlap(before: string, now: string): string {
  const old = before.split(" ");
  const words = now.split(" ");
  // Two words alike are chance ("the bolt, the bolt"); a whole caption said again, or three words and more, are not.
  for (let n = Math.min(old.length, words.length); n >= 1; n -= 1)
    if (
      (n >= 3 || (n === old.length && n >= 2)) &&
      words.every((word, i) => i >= n || word === old[old.length - n + i])
    )
      return words.slice(n).join(" ");
  return now;
}

function takeLines(text: string, file: string, numbered: RegExp): Taken {
  const passages: Passage[] = [];
  let fresh = true;
  let steps = 0;
  text.split(/\r\n|\r|\n/).forEach((whole, i) => {
    const step = numbered.exec(whole);
    if (step) steps += 1;
    const said = whole.slice(step?.[0].length ?? 0).trim();
    if (said !== "") passages.push({ text: said, file, line: i + 1, fresh: fresh || step !== null });
    fresh = said === "" || /[:]\s*$/.test(said) || step !== null;
    // A heading or a step ends with its line; a line of prose goes on.
    if (step !== null && !/[.!?:]$/.test(said)) fresh = true;
  });
  return { kind: steps > 2 ? "procedure" : "prose", passages, odd: [] };
}

/** A table has the same separator in its first lines, as often in each. */
function isTable(text: string): boolean {
  const lines = text
    .split(/\r\n|\r|\n/)
    .filter((line) => line.trim() !== "")
    .slice(0, 6);
  if (lines.length < 2) return false;
  return ["\t", ";", ",", "|"].some((mark) => {
    const counts = lines.map((line) => line.replace(/"[^"]*"/g, "").split(mark).length - 1);
    const first = counts[0] ?? 0;
    const header = lines[0] ?? "";
    return (
      first > 0 &&
      counts.every((n) => n === first) &&
      !/[.!?]\s*$/.test(header) &&
      header.split(mark).every((cell) => cell.trim().split(/\s+/).length <= 5)
    );
  });
}
