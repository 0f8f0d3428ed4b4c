// Owns the processes that the bench of the server starts: the tool as it is shipped, each with what it said on its console.
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { readFileSync } from "node:fs";
import { rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { bundle } from "../../build.ts";

/** The tool, bundled for this bench. */
export async function bundleTool(): Promise<{ readonly entry: string; remove(): Promise<void> }> {
  // Among the packages, so that those which are no part of it are found from there.
  const folder = fileURLToPath(new URL(`../../node_modules/.unmoor-bench-${process.pid}`, import.meta.url));
  return { entry: await bundle(folder), remove: () => rm(folder, { recursive: true, force: true }) };
}

export interface Process {
  readonly child: ChildProcess;
  /** Milliseconds from its start until it said so. */
  readonly ready: number;
  /** What it said until then. */
  readonly said: string;
  /** Its resident memory, megabytes. */
  memory(): number;
  kill(signal: NodeJS.Signals): Promise<void>;
}

/** Starts the tool and waits for a line of its console. @throws where it ends before, with what it said */
export async function startTool(entry: string, words: readonly string[], isReady: RegExp): Promise<Process> {
  const began = performance.now();
  const child = spawn(process.execPath, [entry, ...words], {
    stdio: ["ignore", "pipe", "pipe"],
    env: { ...process.env, NO_COLOR: "1" },
  });
  let said = "";
  let wrong = "";
  child.stderr.on("data", (part: Buffer) => {
    wrong = (wrong + part.toString("utf8")).slice(-4000);
  });
  await new Promise<void>((resolve, reject) => {
    child.stdout.on("data", (part: Buffer) => {
      said += part.toString("utf8");
      if (isReady.test(said)) resolve();
    });
    child.once("exit", (code) => reject(new Error(`${words.join(" ")} ended with ${code}: ${said}${wrong}`)));
  });
  const gone = once(child, "exit");
  return {
    child,
    ready: performance.now() - began,
    said,
    memory: () => residentOf(child.pid ?? 0),
    async kill(signal) {
      if (child.exitCode !== null || child.signalCode !== null) return;
      child.kill(signal);
      await gone;
    },
  };
}

const residentOf = (pid: number): number =>
  Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, "utf8"))?.[1] ?? 0) / 1024;

export interface ServerProcess extends Process {
  readonly origin: string;
  readonly code: string;
}

export async function startServer(entry: string, port: number, words: readonly string[]): Promise<ServerProcess> {
  const started = await startTool(entry, ["serve", ...words, "--port", String(port)], /Ctrl-C stops it/);
  const code = /set-up: (\S+)/.exec(started.said)?.[1] ?? "";
  return { ...started, origin: `http://127.0.0.1:${port}`, code };
}
