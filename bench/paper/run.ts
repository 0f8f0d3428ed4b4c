// Owns the measure of the job pack: seconds and memory of the command as a user starts it, on a file of so many connections of which a little or all comes off.

import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { bundle } from "../../build.ts";
import { writeFile } from "../vehicle/file.ts";

export interface Printing {
  readonly connections: number;
  readonly job: string;
  /** Of the whole command, planning and all, on the clock on the wall: the least of the repeats. */
  readonly seconds: number;
  readonly megabytes: number;
  readonly pages: number;
  readonly kilobytes: number;
}

/** Units of the invented file; the job that takes all of them out is added here. */
const unitsOf = (text: string): readonly string[] => [...text.matchAll(/^ {2}(unit-\d+):/gm)].map(([, id = ""]) => id);

export async function measurePaper(connections: number, repeats: number): Promise<readonly Printing[]> {
  const folder = mkdtempSync(join(tmpdir(), "unmoor-paper-bench-"));
  // Among the packages, so that those which are no part of the bundle are found from there.
  const built = new URL(`../../node_modules/.unmoor-bench-${process.pid}`, import.meta.url).pathname;
  try {
    const entry = await bundle(built);
    const text = writeFile(connections);
    const needs = unitsOf(text).map((id) => `out: ${id}`);
    const file = join(folder, "measured.vehicle.yaml");
    writeFileSync(
      file,
      `${text.trimEnd()}\n  overhaul: { label: Take every unit out, needs: [${needs.join(", ")}], work: [{ at: bench, time: 25 min }] }\n`,
    );
    return ["renew-10", "overhaul"].map((job) => measure(entry, file, job, connections, repeats));
  } finally {
    rmSync(folder, { recursive: true, force: true });
    rmSync(built, { recursive: true, force: true });
  }
}

function measure(entry: string, file: string, job: string, connections: number, repeats: number): Printing {
  const out = file.replace(/\.vehicle\.yaml$/, ".pdf");
  const starter = join(dirname(entry), "peak.mjs");
  writeFileSync(
    starter,
    `process.on("exit", () => console.error("peak", process.resourceUsage().maxRSS)); await import(${JSON.stringify(entry)});`,
  );
  const args = [starter, "print", file, "--job", job, "-o", out];
  const runs = Array.from({ length: repeats }, () => {
    const began = performance.now();
    const { stderr, status } = spawnSync(process.execPath, [...args, "--address", "https://shop.example"], {
      encoding: "utf8",
    });
    if (status !== 0) throw new Error(stderr);
    return { seconds: (performance.now() - began) / 1000, peak: Number(/peak (\d+)/.exec(stderr)?.[1]) / 1000 };
  });
  const pdf = spawnSync("pdfinfo", [out], { encoding: "utf8" }).stdout ?? "";
  return {
    connections,
    job,
    seconds: Number(Math.min(...runs.map(({ seconds }) => seconds)).toFixed(2)),
    megabytes: Math.round(Math.max(...runs.map(({ peak }) => peak))),
    pages: Number(/Pages:\s+(\d+)/.exec(pdf)?.[1] ?? Number.NaN),
    kilobytes: Math.round(statSync(out).size / 1000),
  };
}
