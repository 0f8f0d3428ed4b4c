// Owns the folding of the sentences that times, finish, improve and ways say: tables stay as they are, prose is cut to the width of the screen.

import { type Terminal, wrap } from "./terminal.ts";

/** A table's line has two spaces in a row somewhere; what begins a line is no list. */
const isProse = (line: string): boolean => !/\s\s/.test(line);

export const sayFolded = (text: string, terminal: Terminal): void =>
  terminal.say(
    text
      .split("\n")
      .flatMap((line) => (line.length > terminal.width && isProse(line) ? wrap(line, terminal.width) : [line]))
      .join("\n"),
  );
