// The commands of times as their user meets them: what is asserted is what it means, and that a wrong input is named with its place and its mend.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { called } from "../../test/command.ts";
import { finishDocument, improveDocument, learnDocument, timesDocument, waysDocument } from "./times-documents.ts";

const root = new URL("../..", import.meta.url).pathname;
const folder = mkdtempSync(join(tmpdir(), "unmoor-times-"));
const PUMP = "demo/bench-pump.vehicle.yaml";
const RUNS = "demo/bench-pump.runs.jsonl";

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const written = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};

describe("times", () => {
  test("by hand: six M12 bolts, tight: their elements times size, count and access, and where each comes from", async () => {
    const ran = await called("times", "flange", "--fastener", "bolt", "--count", "6", "--access", "tight", "--json");
    const { made, off } = timesDocument.parse(JSON.parse(ran.stdout));
    expect(ran.status).toBe(0);
    expect(made.some(({ origin }) => origin.mark === "read")).toBe(true);
    const alone = timesDocument.parse(
      JSON.parse((await called("times", "flange", "--fastener", "bolt", "--count", "6", "--json")).stdout),
    );
    expect(off?.p50).toBeGreaterThan(alone.off?.p50 ?? Number.POSITIVE_INFINITY);
  });

  test("three points: the mean is that of the published rule, (12 + 4·18 + 36)/6 = 20", async () => {
    const { mean } = timesDocument.parse(JSON.parse((await called("times", "--three", "12,18,36", "--json")).stdout));
    expect(mean).toBeCloseTo(20, 9);
  });

  test.each([
    [["--three", "18,12,36"], /order|likeliest/i],
    [["--three", "12,18"], /not three times.*--three 12,18,36/],
    [["--three", "12,x,36"], /not three times/],
    [["--minutes", "0"], /above 0|zero|0 min/i],
    [["--minutes", "soon"], /minutes/],
    [["hoze"], /hoze.*hose/s],
    [["hose", "--fastener", "blot"], /blot.*bolt/s],
    [["hose", "--access", "dark"], /dark/],
    [["hose", "--count", "-3"], /above 0/],
  ])("%j is refused, and told how to mend", async (words, said) => {
    const { status, stdout, stderr } = await called("times", ...words);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(said);
  });
});

describe("learn", () => {
  test("two files teach what one of both together does", async () => {
    const lines = readFileSync(join(root, RUNS), "utf8").trimEnd().split("\n");
    const [one, two] = [lines.slice(0, 20), lines.slice(20)].map((part, index) =>
      written(`part-${index}.jsonl`, `${part.join("\n")}\n`),
    );
    const whole = learnDocument.parse(JSON.parse((await called("learn", PUMP, RUNS, "--json")).stdout));
    const parts = learnDocument.parse(JSON.parse((await called("learn", PUMP, one ?? "", two ?? "", "--json")).stdout));
    expect({ ...parts, odd: [] }).toEqual({ ...whole, odd: [] });
  });

  test("a file given twice would count twice", async () => {
    const { status, stderr } = await called("learn", PUMP, RUNS, RUNS);
    expect(status).toBe(2);
    expect(stderr.match(/given twice/g)).toHaveLength(1);
  });

  test("every fault of every file, with file and line", async () => {
    const at = (end: string) => `"start": "2026-03-01T08:00", "end": "${end}"`;
    const bad = written(
      "bad.jsonl",
      [
        "{",
        `{"connection": "coupling", "vehicle": "Another", ${at("2026-03-01T08:04")}}`,
        `{"connection": "coupling", ${at("2026-03-01T08:00")}}`,
        `{"connection": "couplin", ${at("2026-03-01T08:04")}}`,
        `{"connection": "coupling", "way": "coupling/7", ${at("2026-03-01T08:04")}}`,
        `{"connection": "coupling", "start": "yesterday", "end": "today"}`,
      ].join("\n"),
    );
    const { status, stdout, stderr } = await called("learn", PUMP, RUNS, bad, join(folder, "none.jsonl"));
    expect([status, stdout]).toEqual([2, ""]);
    for (const said of [
      /bad\.jsonl:1 .*JSON/,
      /bad\.jsonl:2 .*"Another"/,
      /bad\.jsonl:3 .*0 min are left/,
      /bad\.jsonl:4 .*couplin.*coupling/,
      /bad\.jsonl:5 .*coupling\/7.*coupling\/1/,
      /bad\.jsonl:6 .*moment/,
      /none\.jsonl.*no such file/,
    ])
      expect(stderr).toMatch(said);
  });
});

describe("finish", () => {
  const asked = ["finish", PUMP, "--job", "shaft-seal", "--seconds", "0.2"];

  test("the bundle answers, with what runs taught and a drawing", async () => {
    const side = join(folder, "learnt.json");
    expect((await called("learn", PUMP, RUNS, "--write", side)).status).toBe(0);
    const svg = join(folder, "finish.svg");
    const ran = await called(...asked, "--runs", "500", "--learnt", side, "--by", "150", "--svg", svg, "--json");
    expect([ran.status, ran.stderr]).toEqual([0, ""]);
    const finish = finishDocument.parse(JSON.parse(ran.stdout));
    expect(finish.runs).toBe(500);
    expect(finish.chances[0]?.minutes).toBe(150);
    expect(finish.assumed[0]).toContain("as the runs taught");
    const labels = finish.critical.map(({ label }) => label);
    expect(new Set(labels).size).toBe(labels.length);
    expect(readFileSync(svg, "utf8")).toContain("dotted: 2 h 30 min");
  });

  test("time that is up ends the simulation with the runs there are", async () => {
    const ran = await called(...asked, "--runs", "10000000", "--within", "1", "--json");
    expect(ran.status).toBe(0);
    const { runs } = finishDocument.parse(JSON.parse(ran.stdout));
    expect(runs).toBeGreaterThan(0);
    expect(runs).toBeLessThan(10_000_000);
  });

  test.each([
    [["--runs", "5"], /too few for a percentile/],
    [["--runs", "1e9"], /more than is kept/],
    [["--common", "-1"], /no spread/],
    [["--by", "0"], /no number above 0/],
    [["--learnt", "no.json"], /no such file/],
    [["--learnt", "README.md"], /README\.md is no JSON.*--write/],
    [["--learnt", "package.json"], /package\.json is not what learn wrote/],
    [["--job", "shaft-sael"], /shaft-sael.*shaft-seal/],
    [["--crew", "none.crew.yaml"], /no such file/],
  ])("%j is refused, and told how to mend", async (words, said) => {
    const { status, stdout, stderr } = await called("finish", PUMP, "--job", "shaft-seal", ...words);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(said);
  });

  test("what another vehicle taught is refused by its name", async () => {
    const learnt = JSON.parse((await called("learn", PUMP, RUNS, "--json")).stdout);
    const other = written("other.json", JSON.stringify({ ...learnt, vehicle: "Another" }));
    const { status, stderr } = await called("finish", PUMP, "--job", "shaft-seal", "--learnt", other);
    expect(status).toBe(2);
    expect(stderr).toContain('is of "Another", not of "Bench pump"');
  });
});

describe("improve", () => {
  test("the bundle answers over the jobs by their weights, with changes of one's own", async () => {
    const mine = written(
      "mine.changes.yaml",
      "format: unmoor-changes/1\nrate: 60\nchanges:\n  guard: { label: No guard, steps: [{ of: guard-screws, times: 0.1 }], cost: 9 }\n",
    );
    const ran = await called(
      "improve",
      PUMP,
      "--weight",
      "shaft-seal=12",
      "--changes",
      mine,
      "--runs",
      "200",
      "--json",
    );
    expect([ran.status, ran.stderr]).toEqual([0, ""]);
    const { weighed, jobs, changes, cost } = improveDocument.parse(JSON.parse(ran.stdout));
    expect(weighed).toBe(true);
    expect(jobs).toMatchObject([{ id: "shaft-seal", weight: 12, status: "reckoned" }]);
    expect(cost.money).toBeCloseTo(cost.labour, 6);
    const guard = changes.find(({ id }) => id === "guard");
    expect(guard?.rule).toBe("yours");
    expect(guard?.labour).toBeGreaterThan(0);
    expect(guard?.years).toBeGreaterThan(0);
  });

  test("time that is up ends it with what there is, and says so", async () => {
    const ran = await called(
      "improve",
      "demo/plover-28.vehicle.yaml",
      "--job",
      "renew-belt,clutch-plate",
      "--within",
      "0.4",
    );
    expect([0, 3]).toContain(ran.status);
    expect(ran.stdout).toMatch(/not reckoned: stopped before|Stopped before/);
  });

  test.each([
    [["--job", "shaft-sael"], /shaft-sael.*shaft-seal/],
    [["--weight", "shaft-sael=3"], /shaft-sael.*shaft-seal/],
    [["--weight", "shaft-seal=often"], /does not say how often.*shaft-seal=12/],
    [["--weight", "shaft-seal=3", "--weight", "shaft-seal=4"], /given twice/],
    [["--rank", "price"], /ranked by price/],
    [["--changes", "none.changes.yaml"], /no such file/],
    [["--crew", "0"], /crew of 0/],
    [["--rate", "-5"], /no number above 0/],
  ])("%j is refused, and told how to mend", async (words, said) => {
    const { status, stdout, stderr } = await called("improve", PUMP, ...words);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(said);
  });

  test("faults of a file of changes are told with file, line and column", async () => {
    const bad = written(
      "bad.changes.yaml",
      "format: unmoor-changes/1\nchanges:\n  a: { label: A, steps: [{ of: suction-hoze, off: 5 }] }\n",
    );
    const { status, stderr } = await called("improve", PUMP, "--changes", bad);
    expect(status).toBe(1);
    expect(stderr).toMatch(/bad\.changes\.yaml:3:\d+ .*suction-hoze/);
    expect(stderr).toMatch(/Nearest: suction-hose/);
  });
});

describe("ways", () => {
  const two = ["--in-place", "shaft-seal", "--out", "shaft-seal"];

  test("the bundle compares them, parts on the shelf or not, and draws them", async () => {
    const svg = join(folder, "ways.svg");
    const ran = await called("ways", PUMP, ...two, "--lead", "out=1h,2h,9h", "--runs", "500", "--svg", svg, "--json");
    expect([ran.status, ran.stderr]).toEqual([0, ""]);
    const { ways } = waysDocument.parse(JSON.parse(ran.stdout));
    expect(ways.map(({ way }) => way)).toEqual(["in place", "out"]);
    expect(ways[0]?.lead).toBeUndefined();
    expect(ways[0]?.first?.value).toBeGreaterThan(ways[1]?.first?.value ?? 1);
    expect(readFileSync(svg, "utf8")).toContain("</svg>");
  });

  test.each([
    [["--out", "shaft-seal"], /two at least.*--swap JOB/],
    [["--in-place", "shaft-sael", "--out", "shaft-seal"], /shaft-sael.*shaft-seal/],
    [[...two, "--lead", "swop=2h"], /swop.*swap/],
    [[...two, "--lead", "swap=2h"], /swap is not asked for.*--swap JOB/],
    [[...two, "--lead", "out=2"], /unit/],
    [[...two, "--lead", "out=4h,2h,9h"], /order|likeliest/i],
    [[...two, "--lead", "out=4h,2h"], /neither one time nor three/],
    [[...two, "--mend", "out=0 min"], /above 0|zero|0 min/i],
  ])("%j is refused, and told how to mend", async (words, said) => {
    const { status, stdout, stderr } = await called("ways", PUMP, ...words);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(said);
  });
});
