// Owns what the command line writes and reads, and how it looks: plain text to a pipe, colour only on a terminal that wants it.

import { readFileSync } from "node:fs";

/** Where a command writes, and what it is given. */
export interface Terminal {
  /** The answer: standard output. */
  say(text: string): void;
  /** What is wrong, or under way: standard error. */
  warn(text: string): void;
  /** One line that replaces the last, on a terminal only; an empty text clears it. */
  progress(text: string): void;
  /** Everything that is piped in. */
  input(): string;
  /** A PIN or a password, as it is typed or piped: one line. */
  secret(prompt: string): Promise<string>;
  readonly ink: Ink;
  /** Columns to write in. */
  readonly width: number;
}

export interface Ink {
  strong(text: string): string;
  faint(text: string): string;
  good(text: string): string;
  bad(text: string): string;
  doubt(text: string): string;
}

export const PLAIN: Ink = { strong: same, faint: same, good: same, bad: same, doubt: same };
const COLOUR: Ink = {
  strong: style(1, 22),
  faint: style(2, 22),
  good: style(32, 39),
  bad: style(31, 39),
  doubt: style(33, 39),
};

/** The terminal of this process. `NO_COLOR` (no-color.org) and `TERM=dumb` are respected. */
export function openTerminal(): Terminal {
  const { stdout, stderr, env } = process;
  const coloured = stdout.isTTY === true && !env.NO_COLOR && env.TERM !== "dumb";
  const clear = "\r\u001b[2K";
  let shown = false;
  const wipe = () => {
    if (shown) stderr.write(clear);
    shown = false;
  };
  return {
    say(text) {
      wipe();
      stdout.write(`${text}\n`);
    },
    warn(text) {
      wipe();
      stderr.write(`${text}\n`);
    },
    progress(text) {
      if (stderr.isTTY !== true) return;
      wipe();
      if (text === "") return;
      stderr.write(text.slice(0, (stderr.columns ?? 80) - 1));
      shown = true;
    },
    input: () => readFileSync(0, "utf8"),
    secret: async (prompt) => (await import("./secret.ts")).readSecret(prompt),
    ink: coloured ? COLOUR : PLAIN,
    width: Math.min(Math.max(stdout.columns ?? 110, 60), 130),
  };
}

/** What was written to a terminal that is elsewhere. */
export interface Written {
  readonly to: "say" | "warn";
  readonly text: string;
}

/** A terminal for a thread that has none: what is written on it is kept, for whoever has one. Nobody is asked there. */
export function keptTerminal({ coloured, width }: { readonly coloured: boolean; readonly width: number }): {
  readonly terminal: Terminal;
  readonly written: readonly Written[];
} {
  const written: Written[] = [];
  const nobody = () => {
    throw new Error("nobody is asked in a thread");
  };
  return {
    terminal: {
      say: (text) => written.push({ to: "say", text }),
      warn: (text) => written.push({ to: "warn", text }),
      progress() {},
      input: nobody,
      secret: nobody,
      ink: coloured ? COLOUR : PLAIN,
      width,
    },
    written,
  };
}

function style(on: number, off: number): (text: string) => string {
  return (text) => `\u001b[${on}m${text}\u001b[${off}m`;
}

function same(text: string): string {
  return text;
}

/** Words in lines of at most `width`, never broken. */
export function fill(words: readonly string[], width: number): string[] {
  const lines: string[] = [];
  for (const word of words) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= width) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** A sentence in lines of at most `width`, the first after `indent`, the others two further in. */
export function wrap(text: string, width: number, indent = ""): string[] {
  return fill(text.split(" "), width - indent.length - 2).map((line, i) => `${indent}${i === 0 ? "" : "  "}${line}`);
}
