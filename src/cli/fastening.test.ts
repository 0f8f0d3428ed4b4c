// The commands of fastening as their user meets them; what is asserted is what it means.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { called } from "../../test/command.ts";
import { kitDocument, leftoverDocument, patternDocument, torqueDocument } from "./fastening-documents.ts";

const root = new URL("../..", import.meta.url).pathname;
const folder = mkdtempSync(join(tmpdir(), "unmoor-fastening-"));
const PUMP = "demo/bench-pump.vehicle.yaml";

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const json = async (...words: string[]) => JSON.parse((await called(...words, "--json")).stdout);

test("the torque is the first thing said", async () => {
  const { status, stdout, stderr } = await called(
    "torque",
    "M10x1.5",
    "8.8",
    "--friction",
    "0.12",
    "--preload",
    "25.3kN",
  );
  expect([status, stderr]).toEqual([0, ""]);
  expect(stdout).toContain("torque   41.3 N·m");
});

describe("torque", () => {
  test("by hand there and back: 25.3 kN at μ 0.12 in M10 8.8, in SI", async () => {
    const there = torqueDocument.parse(
      await json("torque", "M10x1.5", "8.8", "--friction", "0.12", "--preload", "25.3kN"),
    );
    expect(there.preload).toBe(25300);
    // 41.272880 N·m for 25 275 N, worked beforehand.
    expect(there.torque).toBeCloseTo((41.27288 * 25300) / 25275, 4);
    const back = torqueDocument.parse(
      await json("torque", "M10x1.5", "8.8", "--friction", "0.12", "--torque", `${there.torque} N·m`),
    );
    expect(back.preload).toBeCloseTo(25300, 6);
    expect(back.range?.low).toBeLessThan(back.preload ?? 0);
    expect(back.proofShare).toBeCloseTo(there.proofShare ?? 0, 12);
  });

  test("45 N·m on an M6 8.8 is an answer of the other kind, with limit and mend", async () => {
    const { status, stdout, stderr } = await called("torque", "M6", "8.8", "--torque", "45Nm");
    expect([status, stderr]).toEqual([1, ""]);
    expect(stdout).toContain("321 % of its proof load of 11.7 kN");
    expect(stdout.replaceAll(/\s+/g, " ")).toContain("Proof is reached at 14 N·m");
  });

  test("a wrong call is named with its place and its mend, all of it at once", async () => {
    const wrong = async (...words: string[]) => {
      const { status, stdout, stderr } = await called("torque", ...words);
      expect([status, stdout]).toEqual([2, ""]);
      return stderr;
    };
    expect(await wrong("M10", "8.8", "--torque", "45N")).toContain(
      '--torque: "45N" is a force, and a torque is wanted',
    );
    expect(await wrong("M11", "8.8")).toContain("THREAD: there is no standard thread of 11 mm. Nearest: M10×1.5.");
    expect(await wrong("M10", "8.9")).toContain('CLASS: "8.9" is no class of ISO 898-1');
    expect(await wrong("M10", "8.8", "--torque", "-5 N·m")).toContain("torque of -5 N·m is not above nothing");
    expect(await wrong("M10", "8.8", "--share", "2")).toContain("share");
    expect(await wrong("M10", "8.8", "--torque", "5Nm", "--preload", "1kN")).toContain("--torque says already");
    expect(await wrong("M10", "8.8", "--turn", "90")).toContain("--grip");
    expect(await wrong("M10", "8.8", "--adapter", "45mm")).toContain("--wrench-length");
    expect(await wrong("M10", "--friction", "soapy")).toContain("lubricated");
    const both = await wrong("M11", "--torque", "45N", "--method", "guess");
    for (const part of ["THREAD", "--torque", "--method"]) expect(both).toContain(part);
  });

  test("with adapter, wrench, running torque and lubricated thread", async () => {
    const words = [
      "M12",
      "10.9",
      "--torque",
      "60Nm",
      "--wrench",
      "20-100",
      "--adapter",
      "45mm",
      "--wrench-length",
      "350mm",
    ];
    const one = torqueDocument.parse(await json("torque", ...words, "--adapter-angle", "45"));
    expect(one.set).toBeCloseTo(54.999766, 6);
    expect(one.wrench).toBe("torque wrench 20-100");
    const wet = torqueDocument.parse(
      await json("torque", ...words, "--running", "4Nm", "--friction", "oil", "--stated-for", "plain"),
    );
    expect(wet.applied).toBe(64);
    expect(wet.verdicts?.find(({ rule }) => rule === "other-friction")?.mend).toContain(
      "45 N·m gives the same preload",
    );
  });

  test("of nothing given is a proposal that says so", async () => {
    const one = torqueDocument.parse(await json("torque", "3/8-16", "grade 5", "--nut-factor", "0.2"));
    // 30.87 lbf·ft, worked beforehand.
    expect((one.torque ?? 0) / 1.3558179483314).toBeCloseTo(30.87, 1);
    expect(one.proposal).toBe(true);
    expect((await called("torque", "3/8-16", "grade 5")).stdout).toContain("a proposal");
  });

  test("of a file: every joint with a torque, or one, against the shop's wrenches", async () => {
    const { joints, unknown } = torqueDocument.parse(await json("torque", "demo/plover-28.vehicle.yaml"));
    expect(joints.length).toBeGreaterThan(10);
    for (const one of joints)
      expect(one.wrench ?? one.verdicts.find(({ rule }) => rule === "wrench-range")?.rule).toBeDefined();
    for (const { mend } of unknown) expect(mend).not.toBe("");
    const one = torqueDocument.parse(await json("torque", PUMP, "--joint", "flange-bolts"));
    expect(one.joints).toMatchObject([{ connection: "flange-bolts", thread: "M12×1.75", class: "8.8", torque: 80 }]);
    expect((await called("torque", PUMP, "--joint", "flange-bolt")).stderr).toContain("Nearest: flange-bolts");
    expect((await called("torque", PUMP, "--torque", "5Nm")).stderr).toContain("the file says it");
  });
});

describe("pattern", () => {
  test("of a circle, a rectangle, bolts at their places, a joint of a file", async () => {
    expect(patternDocument.parse(await json("pattern", "--circle", "12")).order.join("-")).toBe(
      "1-7-4-10-2-8-5-11-3-9-6-12",
    );
    expect(patternDocument.parse(await json("pattern", "--grid", "2x5")).style).toBe("centre outwards");
    const own = await json(
      "pattern",
      "--bolt",
      "a 0mm 10mm",
      "--bolt",
      "b 0mm -10mm",
      "--bolt",
      "c 30mm 0mm",
      "--torque",
      "20Nm",
    );
    expect(patternDocument.parse(own).bolts).toContainEqual({ id: "c", x: 0.03, y: 0 });
    const joint = patternDocument.parse(await json("pattern", PUMP, "--joint", "flange-bolts"));
    expect(joint.passes.at(-2)).toMatchObject({ by: "torque", torque: 80 });
    // The pump's file says where its bolts are; of one that does not, a circle is taken and told.
    expect(joint.assumed).toEqual([]);
    expect(joint.bolts).toHaveLength(4);
  });

  test("--svg is the picture and nothing else", async () => {
    const { stdout } = await called("pattern", "--circle", "8", "--svg");
    expect(stdout.startsWith("<svg ")).toBe(true);
    expect(stdout.trimEnd().endsWith("</svg>")).toBe(true);
  });

  test("a wrong one is named", async () => {
    const wrong = async (...words: string[]) => {
      const { status, stderr } = await called("pattern", ...words);
      expect(status).toBe(2);
      return stderr;
    };
    expect(await wrong()).toContain("--circle 8");
    expect(await wrong("--circle", "-4")).toContain("-4 bolts in a circle");
    expect(await wrong("--circle", "8", "--line", "3")).toContain("Give one layout");
    expect(await wrong("--grid", "2by5")).toContain("2x5");
    expect(await wrong("--bolt", "a 0 10mm")).toContain("no unit");
    expect(await wrong("--circle", "8", "--shares", "60%,30%")).toContain("do not rise");
    expect(await wrong("--circle", "8", "--style", "crosses")).toContain("Nearest: cross");
    expect(await wrong(PUMP, "--joint", "flange")).toContain("no connection");
  });
});

describe("kit", () => {
  test("is one document by its schema, and a page", async () => {
    const kit = kitDocument.parse(await json("kit", PUMP, "--job", "shaft-seal"));
    expect(kit.bags.map(({ connection }) => connection)).toEqual([
      "guard-screws",
      "coupling",
      "flange-bolts",
      "suction-hose",
    ]);
    expect(kit.uneven).toEqual([]);
    const { status, stdout } = await called("kit", PUMP, "--job", "shaft-seal");
    expect(status).toBe(0);
    for (const { item } of [...kit.newParts, ...kit.plugs]) expect(stdout).toContain(item);
  });

  test("with a store is walked shelf by shelf, and says what is not there; a fluid stands as it was measured", async () => {
    const words = ["kit", PUMP, "--job", "relief-valve", "--store", "demo/shop.store.yaml"];
    const { status, stdout } = await called(...words, "--drained", "hydraulic oil 14 L");
    expect(status).toBe(0);
    expect(stdout).toContain("  B3\n    [ ] 2 × O-ring 17×3\n    [ ] 1 × O-ring 20×2.5, NONE THERE\n");
    expect(stdout).toContain("[ ] hydraulic oil: 14 L");
    const foreign = await called(...words, "--drained", "beer 3 L");
    expect([foreign.status, foreign.stderr]).toEqual([
      2,
      "unmoor: --drained: nothing in this job runs out of beer. There are: hydraulic oil.\n",
    ]);
  });

  test("of a swap lists what goes over", async () => {
    const kit = kitDocument.parse(await json("kit", "demo/plover-28.vehicle.yaml", "--job", "swap-unit"));
    expect(kit.transfers[0]?.parts.length).toBeGreaterThan(0);
  });
});

describe("leftover", () => {
  const words = ["leftover", PUMP, "--job", "shaft-seal"];

  test("names the bag that the piece is of, and says what else it could be", async () => {
    const one = leftoverDocument.parse(await json(...words, "--left", "1 M12×35"));
    expect(one.suspects[0]).toMatchObject({ connection: "flange-bolts", lacks: [{ item: "M12×35", count: 1 }] });
    const closed = leftoverDocument.parse(await json(...words, "--left", "1 M12×35", "--closed", "flange-bolts"));
    expect(closed.suspects[0]?.chance).toBeLessThan(one.suspects[0]?.chance ?? 0);
    const marked = leftoverDocument.parse(await json(...words, "--left", "1 M12×35", "--marked", "flange-bolts"));
    expect(marked.suspects[0]?.chance).toBeLessThan(one.suspects[0]?.chance ?? 0);
    expect(leftoverDocument.parse(await json(...words, "--left", "2 × bolt M20×80")).unknown).toEqual(["bolt M20×80"]);
  });

  test("believes a count in", async () => {
    const counted = async (n: number) =>
      leftoverDocument.parse(await json(...words, "--left", "1 M12×35", "--counted", `flange-bolts: ${n} bolt M12×35`))
        .suspects[0]?.chance ?? 0;
    expect(await counted(3)).toBeGreaterThan(0.95);
    expect(await counted(4)).toBeLessThan(await counted(3));
  });

  test("a wrong one is named", async () => {
    const wrong = async (...more: string[]) => {
      const { status, stderr } = await called(...words, ...more);
      expect(status).toBe(2);
      return stderr;
    };
    expect(await wrong()).toContain("what is left");
    expect(await wrong("--left=-3 M8×25")).toContain("-3 of M8×25 cannot be left");
    expect(await wrong("--left", "M8×25")).toContain("no count of an item");
    expect(await wrong("--left", "1 M8×25", "--open", "flange-bolt")).toContain("Nearest: flange-bolts");
  });
});

test("a torque of the file beyond what its bolt bears is found", async () => {
  const text = readFileSync(join(root, PUMP), "utf8").replace("torque: 80 N·m", "torque: 180 N·m");
  const path = join(folder, "edited.vehicle.yaml");
  writeFileSync(path, text);
  const { status, stdout } = await called("torque", path, "--joint", "flange-bolts");
  expect(status).toBe(1);
  expect(stdout).toContain("fails: 180 N·m on M12×1.75 8.8");
});
