// Owns the measuring of the rigging room: how long each question takes, warmed, least and median of repeats, with a checksum of the answers.

import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { buildSync } from "esbuild";
import { hang, type Rig, rangesOf, takeUpFor, weighTrial } from "../../src/rigging/index.ts";
import { rehearse } from "./forgotten.ts";
import { fourLegs, onBeam, oneSlack, onTwoHooks, twoLegs, underSpreader } from "./rigs.ts";

export interface RiggingRow {
  readonly question: string;
  /** Milliseconds. */
  readonly least: number;
  readonly median: number;
  readonly wanted: number;
  /** Of the answers: faster and wrong shows. */
  readonly checksum: string;
}

/** @param within metres that the centre may be out each way, and `play` each leg. */
const unsure = (rig: Rig, within = 0.02, play = 0.005): Rig => ({
  ...rig,
  load: {
    ...rig.load,
    within: [within, within, within],
    mass: { nominal: rig.load.mass.nominal, low: 0.95 * rig.load.mass.nominal, high: 1.05 * rig.load.mass.nominal },
  },
  legs: rig.legs.map((leg) => ({ ...leg, within: play })),
});

const linked = (rig: Rig, most: number): Rig => ({
  ...rig,
  legs: rig.legs.map((leg) => ({ ...leg, takeUp: { step: 0.024, most, taken: 0 } })),
});

/** The bar with two more lugs to hang it by. */
const withLugs = (rig: Rig): Rig => ({
  ...rig,
  beam: {
    ...rig.beam!,
    points: [...rig.beam!.points, { id: "aft", at: [-0.1, 0, 0.1] }, { id: "fore", at: [0.1, 0, 0.1] }],
  },
});

/** Every question in turn; `now` in milliseconds. */
export function measureRigging(now: () => number, repeats: number): RiggingRow[] {
  const rehearsal = rehearse(3, { ties: 120, chance: 0.005, readings: 1 });
  const below = rehearse(4, { ties: 120, chance: 0.005, readings: 1, bodies: true });
  const band = { pitch: [-3, -0.5], roll: [-1.5, 1.5] } as const;
  const questions: readonly { question: string; wanted: number; ask: () => unknown }[] = [
    { question: "hang, two legs", wanted: 1, ask: () => hang(twoLegs(5e6)) },
    { question: "hang, two legs without stretch", wanted: 1, ask: () => hang(twoLegs()) },
    { question: "hang, four legs, one slack", wanted: 1, ask: () => hang(oneSlack(5.5e6)) },
    { question: "hang, four legs, all pull", wanted: 1, ask: () => hang(fourLegs(5e6)) },
    { question: "hang, two legs below a beam", wanted: 1, ask: () => hang(onBeam(5e6)) },
    { question: "hang, four legs to two hooks", wanted: 1, ask: () => hang(onTwoHooks(5e6)) },
    { question: "ranges, two legs", wanted: 5, ask: () => rangesOf(unsure(twoLegs(5e6))) },
    { question: "ranges, four legs", wanted: 5, ask: () => rangesOf(unsure(fourLegs(5e6))) },
    {
      question: "links, four legs of 0 to 8, some fit",
      wanted: 200,
      ask: () => takeUpFor(linked(unsure(fourLegs(5e6), 0.002, 0.001), 8), band),
    },
    {
      question: "links, none fits: the nearest proved",
      wanted: 200,
      ask: () => takeUpFor(linked(unsure(fourLegs(5e6)), 8), band),
    },
    { question: "ranges, two legs below a beam", wanted: 200, ask: () => rangesOf(unsure(onBeam(5e6))) },
    { question: "ranges, four legs to two hooks", wanted: 200, ask: () => rangesOf(unsure(onTwoHooks(5e6))) },
    {
      question: "ranges, spreader, six legs",
      wanted: 500,
      ask: () => rangesOf(unsure(underSpreader(5e6), 0.02, 0.004)),
    },
    {
      question: "links and lugs, two legs of 0 to 6 below a beam of three lugs",
      wanted: 200,
      ask: () =>
        takeUpFor(linked(unsure(withLugs(onBeam(5e6)), 0.003, 0.001), 6), { pitch: [-1.5, 1.5], roll: [-2, 2] }),
    },
    ...(below
      ? [{ question: "trial below a beam, 120 ties and their pairs", wanted: 100, ask: () => weighTrial(below.trial) }]
      : []),
    ...(rehearsal
      ? [{ question: "trial, 120 ties and their pairs", wanted: 100, ask: () => weighTrial(rehearsal.trial) }]
      : []),
  ];
  return questions.map(({ question, wanted, ask }) => {
    const rounds = wanted < 10 ? 20 : 1;
    for (let i = 0; i < 3 * rounds; i++) ask();
    const times = Array.from({ length: repeats }, () => {
      const start = now();
      for (let i = 0; i < rounds; i++) ask();
      return (now() - start) / rounds;
    }).sort((a, b) => a - b);
    return { question, least: times[0]!, median: times[times.length >> 1]!, wanted, checksum: sumOf(ask()) };
  });
}

/** The same in a process of its own, of plain JavaScript as it is shipped: what turns TypeScript into it on the way makes some of this twice as slow. */
export function measureShipped(repeats: number): RiggingRow[] {
  // Among the packages, so that they are found from there.
  const folder = mkdtempSync(fileURLToPath(new URL("../../node_modules/.rigging-", import.meta.url)));
  try {
    const outfile = join(folder, "first.mjs");
    const entry = fileURLToPath(new URL("./first.ts", import.meta.url));
    buildSync({ entryPoints: [entry], outfile, bundle: true, platform: "node", format: "esm", packages: "external" });
    const { stdout, stderr } = spawnSync(process.execPath, [outfile, String(repeats)], { encoding: "utf8" });
    if (stdout === "") throw new Error(stderr);
    return JSON.parse(stdout) as RiggingRow[];
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** FNV-1a over the figures, to six digits. */
function sumOf(answer: unknown): string {
  let hash = 0x811c9dc5;
  const words = JSON.stringify(answer, (_, value) =>
    typeof value === "number" ? Number(value.toPrecision(6)) : value,
  );
  for (let i = 0; i < words.length; i++) hash = Math.imul(hash ^ words.charCodeAt(i), 0x01000193);
  return (hash >>> 0).toString(16).padStart(8, "0");
}
