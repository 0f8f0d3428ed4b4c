// Owns the command line as tests call it: in the process of the test, which costs no more than its work, or spawned as its user starts it.
import { execFile, execFileSync, spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { promisify } from "node:util";
import { inject } from "vitest";
import type { start as Start } from "../src/cli/start.ts";
import { PLAIN } from "../src/cli/terminal.ts";

const entry = inject("bundle");

/** From the bundle and not from the sources: its computing threads are beside it. */
const { start }: { readonly start: typeof Start } = await import(pathToFileURL(join(dirname(entry), "start.js")).href);

export interface Ran {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** A call in this process, in its folder and with its environment. */
export const called = (...words: string[]): Promise<Ran> => calledWith("", ...words);

/** @param piped what comes in on standard input; a secret takes a line of it */
export async function calledWith(piped: string, ...words: string[]): Promise<Ran> {
  const said = { stdout: "", stderr: "" };
  const lines = piped.split("\n");
  const status = await start(words, {
    say: (text) => {
      said.stdout += `${text}\n`;
    },
    warn: (text) => {
      said.stderr += `${text}\n`;
    },
    progress: () => undefined,
    input: () => piped,
    secret: async () => lines.shift() ?? "",
    ink: PLAIN,
    width: 110,
  });
  return { status, ...said };
}

/**
 * Plays a shell script whose calls of `unmoor` this process answers, one at a time, in the folder that it has gone to.
 *
 * @param words of the script: its path, and what it is called with
 * @param scratch a folder of its own: the script's calls and their answers go through files in it
 */
export async function played(words: readonly string[], scratch: string): Promise<string> {
  const at = (name: string) => join(scratch, name);
  execFileSync("sh", ["-c", 'mkfifo "$@"', "sh", at("call"), at("answer")]);
  writeFileSync(at("unmoor"), CALLER);
  const env = { ...process.env, UNMOOR: `sh ${at("unmoor")} ${scratch}` };
  const script = promisify(execFile)("sh", words, { env }).finally(() => writeFile(at("call"), ""));
  const answer = async (): Promise<void> => {
    // Each end of a pipe waits for the other; nothing comes when the script is over.
    if ((await readFile(at("call"), "utf8")) === "") return;
    const asked = readFileSync(at("words"), "utf8").split("\0").slice(0, -1);
    const { status, stdout, stderr } = await calledWith(readFileSync(at("piped"), "utf8"), ...asked);
    writeFileSync(at("stdout"), stdout);
    writeFileSync(at("stderr"), stderr);
    await writeFile(at("answer"), `${status}\n`);
    return answer();
  };
  const [{ stdout }] = await Promise.all([script, answer()]);
  return stdout;
}

/** Stands for `unmoor` in a script: hands on the words and what is piped in, and ends as it is told. */
const CALLER = `at=$1
shift
printf '%s\\0' "$@" > "$at/words"
: > "$at/piped"
for word; do :; done
[ "$word" = - ] && cat > "$at/piped"
echo call > "$at/call"
read -r status < "$at/answer"
cat "$at/stdout"
cat "$at/stderr" >&2
exit "$status"
`;

/** A call as a process of its own, in the folder of the repository and with this process's environment. */
export const spawned = (...words: string[]): Ran => spawnedWith("", ...words);

/** @param piped what comes in on standard input */
export const spawnedWith = (piped: string, ...words: string[]): Ran =>
  spawnSync(process.execPath, [entry, ...words], {
    cwd: new URL("..", import.meta.url).pathname,
    input: piped,
    encoding: "utf8",
    timeout: 60_000,
  });
