// Owns the command `npm run bench -- release | crew | agree | vehicle | fastening | rigging | store | ledger | server | web | paper`: what to measure, and the tables.

import { parseArgs } from "node:util";
import { benchCrew, crewUsage } from "./crew/command.ts";
import { learnStops } from "./draft/learn.ts";
import { measureDraft, scoreFolder } from "./draft/run.ts";
import { measureShops, measureSpeed } from "./fastening/run.ts";
import { contest, interleave, measureLedger } from "./ledger/run.ts";
import { measurePaper } from "./paper/run.ts";
import { compareWithOracle } from "./release/agree.ts";
import { FAMILIES, type Family, HOISTS } from "./release/generate.ts";
import { measureFirst, measureRelease, peerNote, releaseHead, releaseLine } from "./release/run.ts";
import { compareWithEngine } from "./rigging/engine.ts";
import { measureReliability } from "./rigging/forgotten.ts";
import { measureShipped } from "./rigging/run.ts";
import { killAnything } from "./server/kills.ts";
import { measureServer } from "./server/run.ts";
import { measureStores } from "./store/run.ts";
import { measureCoverage } from "./times/history.ts";
import { agreeAgain, measureTimes } from "./times/run.ts";
import { measureReading } from "./vehicle/read.ts";
import { measureWeb } from "./web/run.ts";

// The crew's bench has flags of its own.
if (process.argv[2] === "crew") process.exit(benchCrew(process.argv.slice(3)));

if (process.argv[2] === "draft") {
  // A folder of annotated narrations, or how many mangled texts; or where stops stand is learned anew.
  const asked = process.argv[3] ?? "100000";
  if (asked === "learn")
    learnStops(["demo/narrations", "bench/draft/mended", "bench/draft/fresh"], "src/draft/stops.json");
  else if (Number.isNaN(Number(asked))) scoreFolder(asked);
  else measureDraft(Number(asked));
  process.exit();
}

const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: {
    sizes: { type: "string", default: "150,1000" },
    families: { type: "string", default: FAMILIES.join(",") },
    hoists: { type: "string", default: HOISTS.join(",") },
    seeds: { type: "string", default: "5" },
    seconds: { type: "string", default: "10" },
    repeats: { type: "string", default: "3" },
    peer: { type: "boolean", default: false },
    first: { type: "boolean", default: false },
    rigs: { type: "string", default: "0" },
    lifts: { type: "string", default: "0" },
    kills: { type: "string", default: "0" },
    requests: { type: "string", default: "0" },
    histories: { type: "string", default: "0" },
    jobs: { type: "string", default: "1000" },
    again: { type: "boolean", default: false },
    json: { type: "boolean", default: false },
  },
});

const sizes = values.sizes.split(",").map(Number);
const say = (line: string): void => {
  if (!values.json) console.log(line);
};

switch (positionals[0]) {
  case "release": {
    if (values.peer) say(peerNote);
    say(releaseHead);
    const families = values.families.split(",") as Family[];
    const rows = await measureRelease(
      {
        sizes,
        families,
        hoists: values.hoists.split(",") as (typeof HOISTS)[number][],
        seeds: Number(values.seeds),
        seconds: Number(values.seconds),
        repeats: Number(values.repeats),
        peer: values.peer,
      },
      (row) => say(releaseLine(row)),
    );
    const first = values.first
      ? families.flatMap((family) =>
          sizes.map((connections) => ({ family, connections, ...measureFirst(family, connections) })),
        )
      : [];
    for (const f of first) {
      say(
        `first call in a fresh process, ${f.family} loose ${f.connections}: ${f.ms.toFixed(0)} ms, ${f.status}, peak ${f.megabytes.toFixed(0)} MB`,
      );
    }
    if (values.json) console.log(JSON.stringify({ rows, first }));
    break;
  }
  case "agree": {
    const agreement = await compareWithOracle(sizes, Number(values.seeds), Number(values.seconds), say);
    console.log(JSON.stringify(agreement));
    if (agreement.contradictions.length > 0) process.exitCode = 1;
    break;
  }
  case "vehicle": {
    const rows = measureReading(() => performance.now(), { sizes });
    if (values.json) console.log(JSON.stringify(rows));
    else console.table(rows);
    break;
  }
  case "ledger": {
    const speed = measureLedger();
    const histories = Number(values.histories);
    // A hundred orders of arrival of each history.
    const trials = histories > 0 ? [interleave(Math.ceil(histories / 100), 100), ...contest(histories)] : [];
    if (values.json) console.log(JSON.stringify({ speed, trials }));
    else {
      console.table(speed.map((row) => ({ ...row, least: row.least.toFixed(2), median: row.median.toFixed(2) })));
      if (trials.length > 0) console.table(trials);
    }
    if (trials.some(({ failed }) => failed > 0)) process.exitCode = 1;
    break;
  }
  case "fastening": {
    // Processor time: on a machine that others use too the clock on the wall measures them.
    const clock = (): number => {
      const { user, system } = process.cpuUsage();
      return (user + system) / 1000;
    };
    const speed = measureSpeed(clock, 200);
    const ranking = measureShops(Number(values.jobs));
    if (values.json) console.log(JSON.stringify({ speed, ranking }));
    else {
      console.table(speed);
      console.table(ranking);
    }
    break;
  }
  case "rigging": {
    const rows = measureShipped(Number(values.repeats));
    const engine = Number(values.rigs) > 0 ? await compareWithEngine(Number(values.rigs)) : undefined;
    const reliability =
      Number(values.lifts) > 0
        ? measureReliability(Number(values.lifts), { ties: 12, chance: 0.05, readings: 1 })
        : undefined;
    if (values.json) console.log(JSON.stringify({ rows, engine, reliability }));
    else {
      console.table(rows);
      if (engine) console.log("beside a rigid-body engine", engine);
      if (reliability) {
        const { bins, ...rest } = reliability;
        console.table(bins);
        console.log(rest);
      }
    }
    break;
  }
  case "store": {
    const { speed, killed } = await measureStores(Number(values.kills));
    if (values.json) console.log(JSON.stringify({ speed, killed }));
    else {
      console.table(speed);
      if (killed.length > 0) console.table(killed);
    }
    break;
  }
  case "server": {
    const { rows, fuzzed } = await measureServer(Number(values.requests), ({ store, what, figure, unit, bar, more }) =>
      say(`${store}: ${what}: ${figure} ${unit} (bar ${bar}); ${more}`),
    );
    const killed = Number(values.kills) > 0 ? await killAnything(Number(values.kills)) : undefined;
    if (values.json) console.log(JSON.stringify({ rows, fuzzed, killed }));
    else {
      if (fuzzed !== undefined) {
        const { wrong, ...rest } = fuzzed;
        console.log("requests made from the description", rest);
        for (const one of wrong.slice(0, 20)) console.log(one);
      }
      if (killed !== undefined) console.log("servers and workers killed", killed);
    }
    if ((fuzzed?.wrong.length ?? 0) > 0 || (killed?.lost ?? 0) + (killed?.unanswered ?? 0) > 0) process.exitCode = 1;
    break;
  }
  case "paper": {
    const rows = await measurePaper(400, Number(values.repeats));
    if (values.json) console.log(JSON.stringify(rows));
    else console.table(rows);
    break;
  }
  case "web": {
    const rows = await measureWeb(({ what, figure, bar }) =>
      say(`${what}: ${figure}${bar === "" ? "" : ` (bar ${bar})`}`),
    );
    if (values.json) console.log(JSON.stringify(rows));
    break;
  }
  case "times": {
    // Processor time, as for fastening.
    const clock = (): number => {
      const { user, system } = process.cpuUsage();
      return (user + system) / 1000;
    };
    const speed = measureTimes(clock, Number(values.repeats));
    const coverage = [10, 40, 160].flatMap((seen) => [0, 0.25].map((off) => measureCoverage(400, seen, off)));
    const again = values.again ? agreeAgain(say) : undefined;
    if (values.json) console.log(JSON.stringify({ speed, coverage, again }));
    else {
      console.table(speed);
      console.table(coverage);
      if (again !== undefined) console.log("solved again", again);
    }
    if ((again?.differing.length ?? 0) > 0) process.exitCode = 1;
    break;
  }
  default:
    console.error(
      "npm run bench -- release [--sizes 150,1000] [--families thin,extra,loops,dense] [--hoists loose,tight] [--seeds 5] [--seconds 10] [--peer] [--first] [--json]",
    );
    console.error(crewUsage);
    console.error("npm run bench -- agree [--sizes 60,150] [--seeds 5] [--seconds 60] [--json]");
    console.error("npm run bench -- rigging [--repeats 3] [--rigs 200] [--lifts 1000] [--json]");
    console.error("npm run bench -- paper [--repeats 3] [--json]");
    console.error("npm run bench -- vehicle [--sizes 150,1000,5000] [--json]");
    console.error("npm run bench -- store [--kills 500] [--json]");
    console.error("npm run bench -- server [--requests 20000] [--kills 100] [--json]");
    console.error("npm run bench -- ledger [--histories 10000] [--json]");
    console.error("npm run bench -- fastening [--jobs 1000] [--json]");
    console.error("npm run bench -- times [--repeats 3] [--again] [--json]");
    process.exitCode = 2;
}
