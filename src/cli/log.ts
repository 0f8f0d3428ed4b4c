// Owns the log of what runs for long: one line of JSON each on standard error, for whatever gathers them.

/** Writes a line. */
export const writeLog = (line: Readonly<Record<string, unknown>>): void => {
  process.stderr.write(`${JSON.stringify(line)}\n`);
};
