// `plan --crew` and `crew` as their user meets them: the bundle, spawned on the demo; what is asserted is what it means.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { called } from "../../test/command.ts";
import { crewCurveDocument, scheduleDocument } from "./documents.ts";

const folder = mkdtempSync(join(tmpdir(), "unmoor-schedule-"));
const PUMP = "demo/bench-pump.vehicle.yaml";

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const file = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};

const scheduled = async (...words: string[]) => {
  const { stdout, stderr, status } = await called("plan", PUMP, "--json", ...words);
  expect([stderr, status]).toEqual(["", 0]);
  const document = scheduleDocument.parse(JSON.parse(stdout));
  if (document.format !== "unmoor/crew-plan/1") throw new Error("no schedule");
  return document;
};

describe("plan --crew", () => {
  test("says who does what when, within a hundred columns", async () => {
    const { status, stdout, stderr } = await called("plan", PUMP, "--job", "relief-valve", "--crew", "2");
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toMatch(/56 min elapsed: begins 0:00, done 0:56\. Proved/);
    expect(stdout).toMatch(/PERSON 1 /);
    expect(stdout).toMatch(/0:00–0:03 {2}Far side of the stand {2}Drain the tank.*; then 10 min on its own/);
    expect(stdout).toContain("WHAT MAKES IT THIS LONG");
    expect(Math.max(...stdout.split("\n").map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  test("a crew file: times of day, names, and steps only while their people are there", async () => {
    const crew = file(
      "two.crew.yaml",
      "format: unmoor-crew/1\nbegins: 11:30\nshift: 7:30-16:00\nbreaks: [12:00-12:30]\npeople: { ada: {}, ben: {} }\n",
    );
    const { stdout } = await called("plan", PUMP, "--job", "relief-valve", "--crew", crew, "--seconds", "1");
    expect(stdout).toContain("begins 11:30");
    expect(stdout).toContain("12:00–12:30");
    const { steps, crew: shown } = await scheduled("--job", "relief-valve", "--crew", crew, "--seconds", "1");
    expect(shown.people.map(({ label }) => label)).toEqual(["Ada", "Ben"]);
    const attended = steps.filter(({ people }) => people.length > 0);
    expect(attended.filter(({ start }) => start >= 30 && start < 60)).toEqual([]);
  });

  test("the same seed gives the same schedule", async () => {
    const call = ["--job", "relief-valve", "--crew", "2", "--seed", "3"];
    expect(await scheduled(...call)).toEqual(await scheduled(...call));
  });

  test("--svg draws it: every person, every state, nothing from outside", async () => {
    const path = join(folder, "out.svg");
    expect(
      (await called("plan", PUMP, "--job", "shaft-seal", "--crew", "2", "--seconds", "1", "--svg", path)).status,
    ).toBe(0);
    const drawing = readFileSync(path, "utf8");
    expect(drawing).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
    for (const text of ["Person 1", "Person 2", "Sling the pump", "Near side of the stand"])
      expect(drawing).toContain(text);
    expect(drawing).not.toMatch(/href|NaN|undefined/);
    expect(drawing.match(/<g>/g)?.length).toBe(drawing.match(/<\/g>/g)?.length);
  });

  test("planned anew from where it stands, as told before", async () => {
    const first = await scheduled("--job", "relief-valve", "--crew", "2");
    const told = file("told.json", JSON.stringify(first));
    const again = await scheduled("--job", "relief-valve", "--crew", "2", "--told", told, "--now", "40");
    expect(40 + again.elapsed + 2 * again.retold).toBeLessThanOrEqual(first.elapsed);
    expect(again.steps.filter(({ done }) => done).map(({ id }) => id)).toEqual(
      expect.arrayContaining(first.steps.filter(({ end }) => end <= 40).map(({ id }) => id)),
    );
  });
});

describe("what cannot be: exit 1, what and where, and the mend", () => {
  test("nobody to verify", async () => {
    const { status, stdout } = await called("plan", PUMP, "--job", "shaft-seal", "--crew", "1", "--seconds", "1");
    expect(status).toBe(1);
    expect(stdout).toMatch(/cannot do it[\s\S]*bench-pump\.vehicle\.yaml:\d+[\s\S]*nobody is left[\s\S]*second person/);
    const { stdout: json } = await called("plan", PUMP, "--job", "shaft-seal", "--crew", "1", "--json");
    const document = scheduleDocument.parse(JSON.parse(json));
    expect(document.format === "unmoor/crew-lack/1" && document.lacks[0]?.place?.file).toBe(PUMP);
  });

  test("a skill nobody has is told as what must come off is", async () => {
    const { status, stdout } = await called(
      "plan",
      "demo/plover-28.vehicle.yaml",
      "--job",
      "clutch-plate",
      "--crew",
      "emil",
    );
    expect(status).toBe(1);
    expect(stdout).toContain("nobody has the skill");
  }, 20_000);

  test("a shift too short for what is done in one go", async () => {
    const narrow = file("never.crew.yaml", "format: unmoor-crew/1\nshift: 7:00-7:02\npeople: { ada: {}, ben: {} }\n");
    const { status, stdout } = await called("plan", PUMP, "--job", "shaft-seal", "--crew", narrow, "--seconds", "1");
    expect(status).toBe(1);
    expect(stdout).toMatch(/in one go[\s\S]*Lengthen a shift/);
  });

  test("a tool of the crew file that is almost one of the vehicle file", async () => {
    const near = file(
      "near.crew.yaml",
      "format: unmoor-crew/1\npeople: { ada: {}, ben: {} }\ntools: [{ tool: drain pan 20L, count: 2 }]\n",
    );
    const { status, stderr } = await called("plan", PUMP, "--job", "relief-valve", "--crew", near, "--seconds", "1");
    expect(status).toBe(0);
    expect(stderr).toContain(
      "tool drain pan 20L is none that demo/bench-pump.vehicle.yaml asks for. Nearest: drain pan 20 L.",
    );
  });

  test("a crew file that names nobody", async () => {
    const nobody = file("nobody.crew.yaml", "format: unmoor-crew/1\npeople: {}\n");
    const { status, stderr } = await called("plan", PUMP, "--job", "shaft-seal", "--crew", nobody);
    expect([status, stderr.includes("names nobody. Write under people who is there.")]).toEqual([2, true]);
  });

  test("faults of a crew file, each with its place", async () => {
    const crew = file("bad.crew.yaml", "format: unmoor-crew/1\nshift: 7\npeople: { ada: { skils: rigger } }\n");
    const { status, stdout, stderr } = await called("plan", PUMP, "--job", "shaft-seal", "--crew", crew);
    expect([status, stdout]).toEqual([1, ""]);
    expect(stderr).toMatch(/bad\.crew\.yaml:2:8 [\s\S]*bad\.crew\.yaml:3:18 [\s\S]*2 faults/);
  });
});

describe("wrong calls: exit 2, the mend, and nothing on standard output", () => {
  test.each([
    ["nobody of that name", ["--crew", "ann"], /nobody in the shop is called ann.*\*\.crew\.yaml/],
    ["a crew of nobody", ["--crew", "0"], /a crew of 0\. Write a whole number/],
    ["half a person", ["--crew", "2.5"], /a crew of 2\.5\. Write a whole number/],
    ["no such crew file", ["--crew", "none.crew.yaml"], /none\.crew\.yaml cannot be read: no such file/],
    ["done, and no clock", ["--crew", "2", "--done", "coupling"], /--done is given without --now/],
    ["a step begun, badly written", ["--crew", "2", "--now", "5", "--begun", "coupling"], /STEP@MINUTE=PERSON/],
    ["a step that there is not", ["--crew", "2", "--now", "5", "--done", "couplin"], /no couplin\. Nearest: coupling/],
    ["told by something else", ["--crew", "2", "--now", "5", "--told", "package.json"], /package\.json is no schedule/],
  ])("%s", async (_, words, message) => {
    const { status, stdout, stderr } = await called("plan", PUMP, "--job", "shaft-seal", ...words);
    expect(stderr).toMatch(message);
    expect([status, stdout]).toEqual([2, ""]);
  });
});

describe("crew", () => {
  test("the curve: proved where it can be, the knee, and what a tool more would spare", async () => {
    const { status, stdout } = await called("crew", PUMP, "--job", "relief-valve", "--up-to", "3");
    expect(status).toBe(0);
    expect(stdout).toMatch(/^ {3}1 .*57\.5 min .*proved/m);
    expect(stdout).toMatch(/^ {3}2 .*56 min .*proved/m);
    expect(stdout).toContain("◄ the knee");
    expect(stdout).toContain("2 × drain pan 20 L");
  });

  test("--json is as its schema says, and more people are never slower", async () => {
    const path = join(folder, "curve.svg");
    const { stdout } = await called("crew", PUMP, "--job", "relief-valve", "--up-to", "3", "--json", "--svg", path);
    const curve = crewCurveDocument.parse(JSON.parse(stdout));
    expect(curve.points.map(({ people }) => people)).toEqual([1, 2, 3]);
    expect(curve.points[2]?.elapsed).toBeLessThanOrEqual(curve.points[1]?.elapsed ?? Number.NaN);
    for (const { elapsed, bound } of curve.points) expect(bound ?? 0).toBeLessThanOrEqual(elapsed ?? 0);
    expect(readFileSync(path, "utf8")).toContain("the knee");
  });

  test("--due: the fewest people who make it, and that one fewer cannot", async () => {
    const asked = ["crew", PUMP, "--job", "relief-valve", "--up-to", "3"];
    expect((await called(...asked, "--due", "57 min")).stdout).toContain(
      "Done in 57 min: 2 people are enough, and 1 person cannot: that is proved.",
    );
    expect((await called(...asked, "--due", "50 min")).stdout).toContain(
      "Done in 50 min: not with up to 3 people, that is proved.",
    );
    const { due } = crewCurveDocument.parse(JSON.parse((await called(...asked, "--due", "57 min", "--json")).stdout));
    expect(due).toEqual({ minutes: 57, people: 2, fewerCannot: true });
  }, 60_000);
});
