// Owns what is alike in commands that run until they are told to stop: their log, lines of JSON on standard error for whatever gathers them, and their end.

/** Milliseconds that a line may wait for others: to write each by itself costs more than to make it. */
const GATHER = 100;

let gathered: string[] = [];

const write = (): void => {
  const text = gathered.join("");
  gathered = [];
  if (text !== "") process.stderr.write(text);
};

/** Writes a line. */
export const writeLog = (line: Readonly<Record<string, unknown>>): void => {
  if (gathered.length === 0) setTimeout(write, GATHER).unref();
  gathered.push(`${JSON.stringify(line)}\n`);
};

process.once("exit", write);

/** Until this process is told to end. */
export const toldToStop = (): Promise<void> =>
  new Promise((resolve) => {
    for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => resolve());
  });
