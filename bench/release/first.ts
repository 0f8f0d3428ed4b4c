// Owns one first call in a fresh process: prints its time, the process's peak memory and the status as JSON.

import { compileLater } from "../../src/cli/compiling.ts";
import { solve } from "../../src/release/index.ts";
import { type Family, generateMachine } from "./generate.ts";

compileLater();
const [family, connections] = process.argv.slice(2);
const { problem } = generateMachine({ family: family as Family, size: Number(connections), hoist: "loose", seed: 1 });
const { ms, status } = solve(problem, { now: () => performance.now(), milliseconds: 60_000 });
console.log(JSON.stringify({ ms, status, megabytes: process.resourceUsage().maxRSS / 1024 }));
