// Owns the asking of a published exact solver: a runner in some folder, started on one file in a process of its own, so that nothing of it is part of this.

import { spawnSync } from "node:child_process";
import { join } from "node:path";

export interface PeerAnswer {
  readonly makespan: number | null;
  readonly proved: boolean;
  readonly ms: number;
}

interface PeerLine {
  readonly makespan: number | null;
  readonly optimal: boolean;
  readonly ms: number;
  readonly checked: boolean;
}

/** `node FOLDER/run.mjs --limit SECONDS FILE` prints one JSON line; undefined when it does not, or when its own check fails. */
export function askPeer(folder: string, file: string, seconds: number): PeerAnswer | undefined {
  const run = spawnSync(process.execPath, [join(folder, "run.mjs"), "--limit", String(seconds), file], {
    encoding: "utf8",
    timeout: (seconds + 60) * 1000,
  });
  const line = run.stdout?.trim().split("\n").at(-1) ?? "";
  if (run.status !== 0 || !line.startsWith("{")) return undefined;
  const { makespan, optimal, ms, checked } = JSON.parse(line) as PeerLine;
  if (makespan !== null && !checked) return undefined;
  return { makespan, proved: optimal, ms };
}
