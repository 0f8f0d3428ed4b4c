// The command line as its user meets it: the bundle, called on the demo and on broken files; what is asserted is what it means.
import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, inject, test } from "vitest";
import { called, spawned } from "../../test/command.ts";
import { COMMANDS } from "./commands.ts";
import { checkDocument, freeDocument, planDocument, releaseDocument, whyDocument } from "./documents.ts";

const root = new URL("../..", import.meta.url).pathname;
const folder = mkdtempSync(join(tmpdir(), "unmoor-cli-"));
const PUMP = "demo/bench-pump.vehicle.yaml";
const entry = inject("bundle");

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A vehicle file made from a demo by replacing text that must be in it. */
function edit(demo: string, ...changes: readonly (readonly [string, string])[]): string {
  let text = readFileSync(join(root, demo), "utf8");
  for (const [from, to] of changes) {
    if (!text.includes(from)) throw new Error(`${demo} no longer has: ${from}`);
    text = text.replace(from, to);
  }
  const path = join(mkdtempSync(join(folder, "file-")), "edited.vehicle.yaml");
  writeFileSync(path, text);
  return path;
}

describe("help", () => {
  test("names every command, and each command's own help has its usage, an example and the exit codes", async () => {
    const all = await called("--help");
    expect(all.status).toBe(0);
    for (const { name, flags: always, moreFlags, example } of COMMANDS) {
      const flags = [...always, ...((await moreFlags?.()) ?? [])];
      expect(all.stdout).toContain(`  ${name} `);
      const own = await called(name, "--help");
      expect(own.status).toBe(0);
      expect(own.stdout).toContain(`Example:  ${example}`);
      expect(own.stdout).toContain("Exit codes:");
      for (const flag of flags) expect(own.stdout).toContain(`--${flag.name}`);
    }
  }, 120_000);

  test("without a command it is given on standard error, as a wrong call", async () => {
    const { status, stdout, stderr } = await called();
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toContain("release");
  });

  test("every example in it runs, and none calls anything safe", async () => {
    // In a folder of its own, for some of them leave a shop's store behind.
    const examples = mkdtempSync(join(folder, "examples-"));
    symlinkSync(join(root, "demo"), join(examples, "demo"));
    process.chdir(examples);
    try {
      for (const { name, example, flags: always, moreFlags } of COMMANDS) {
        // What is a server, works for one or needs one is tried with one: serve.test.ts.
        if (["serve", "work", "sign-in", "people"].includes(name)) continue;
        if (name === "verify") await called("run", "shop.db", "bench-pump-1", "--export", "bench-pump-1.jsonl");
        const words = example.replace(/ >.*/, "").split(" ").slice(1);
        // Whether it is a right call shows at once, however long the answer would take.
        const flags = [...always, ...((await moreFlags?.()) ?? [])];
        for (const time of ["within", "seconds"])
          if (flags.some(({ name }) => name === time) && !words.includes(`--${time}`)) words.push(`--${time}`, "0.5");
        const { status, stdout } = await called(...words);
        expect(status, example).not.toBe(2);
        // The lift and its trial are among them.
        expect(stdout, example).not.toMatch(/\bsafe\b/i);
      }
    } finally {
      process.chdir(root);
    }
  }, 180_000);
});

describe("wrong calls: exit 2, the mend, and nothing on standard output", () => {
  test.each([
    ["a misspelt command", ["relase", PUMP], /there is no command relase\. Nearest: release\./],
    ["a misspelt flag", ["release", PUMP, "--jobb", "shaft-seal"], /no flag --jobb\. Nearest: --job\./],
    ["no file", ["check"], /check needs FILE/],
    [
      "a file that is not there",
      ["check", "demo/bench-pmp.vehicle.yaml"],
      /no such file\. Nearest: demo\/bench-pump\.vehicle\.yaml\./,
    ],
    [
      "a folder",
      ["release", "demo", "--job", "x"],
      /demo cannot be read: it is a folder\. Name a file in it: .*demo\/bench-pump/,
    ],
    ["a misspelt job", ["release", PUMP, "--job", "shaft-saal"], /no job called shaft-saal\. Nearest: shaft-seal\./],
    [
      "a part that is none",
      ["release", PUMP, "--job", "shaft-seal", "--keep", "vlave"],
      /no part called vlave\. Nearest: valve\./,
    ],
    [
      "a hoist that is none",
      ["release", PUMP, "--job", "shaft-seal", "--hoist", "chain-hoistt"],
      /no hoist called chain-hoistt\. Nearest: chain-hoist\./,
    ],
    [
      "a connection that is none",
      ["free", PUMP, "--released", "couplin"],
      /no connection called couplin\. Nearest: coupling\./,
    ],
    [
      "a tool that no step uses",
      ["release", PUMP, "--job", "shaft-seal", "--without-tool", "spanner 25"],
      /no tool called spanner 25\. Nearest: spanner 2[47]\./,
    ],
    [
      "nobody of that name",
      ["release", PUMP, "--job", "shaft-seal", "--crew", "ann,bob"],
      /nobody in the shop is called ann/,
    ],
    ["an order for nothing", ["release", PUMP], /the order asks for nothing\. Name at least one job/],
    [
      "a part both kept and taken",
      ["release", PUMP, "--job", "shaft-seal", "--keep", "valve", "--take", "valve"],
      /valve is both to be kept and to be taken/,
    ],
    ["a schema that is none", ["schema", "relase"], /no schema relase\. Nearest: release\./],
  ])("%s", async (_, words, message) => {
    const { status, stdout, stderr } = await called(...words);
    expect(stderr).toMatch(message);
    expect(stdout).toBe("");
    expect(status).toBe(2);
  });

  test("bytes that are no text, and a file far too large, are refused unread", async () => {
    const path = join(folder, "bytes.vehicle.yaml");
    writeFileSync(path, Buffer.from([0xff, 0xfe, 0x00, 0x80]));
    expect((await called("check", path)).stderr).toContain(
      "it is no UTF-8 text. If it is a vehicle file, save it as UTF-8.",
    );
    writeFileSync(path, "a: b\n".repeat(10_000_000));
    expect((await called("check", path)).stderr).toContain("it is 50 MB, far above the limit");
  });
});

describe("check", () => {
  test("a sound file: exit 0, its size and its jobs", async () => {
    const { status, stdout, stderr } = await called("check", PUMP);
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toMatch(/sound: Bench pump; 4 parts, 8 connections, 3 positions/);
    expect(stdout).toContain("shaft-seal");
  });

  test("several faults: exit 1, each with its line, its mend and the nearest name", async () => {
    const path = edit(
      PUMP,
      ["needs: [guard-screws], tools: [hexagon key 6]", "needs: [gaurd-screws], tools: [hexagon key 6]"],
      ["mass: 4 kg ± 2 %", "mass: 4"],
    );
    const { status, stdout } = await called("check", path);
    expect(status).toBe(1);
    expect(stdout).toMatch(/edited\.vehicle\.yaml:\d+:\d+ .*gaurd-screws/);
    expect(stdout).toMatch(/Nearest: guard-screws/);
    expect(stdout).toMatch(/2 faults in/);
  });

  test("--json is one document of the published shape, sound or not", async () => {
    const sound = checkDocument.parse(JSON.parse((await called("check", PUMP, "--json")).stdout));
    expect(sound).toMatchObject({ sound: true, faults: [], vehicle: { parts: 4, connections: 8 } });
    const broken = await called("check", edit(PUMP, ["needs: [lift-off]", "needs: [lift-of]"]), "--json");
    const document = checkDocument.parse(JSON.parse(broken.stdout));
    expect(document.sound).toBe(false);
    expect(document.faults).toHaveLength(1);
    expect(document.faults[0]?.sentence).toContain("lift-off");
    expect(broken.status).toBe(1);
  });

  test("a file that is read through a link is the file", async () => {
    const link = join(folder, "link.vehicle.yaml");
    symlinkSync(join(root, PUMP), link);
    expect((await called("check", link)).status).toBe(0);
  });
});

describe("release", () => {
  test("the bench pump: the optimum that docs/bench-pump.md works out by hand, with its proof", async () => {
    const { status, stdout, stderr } = await called("release", PUMP, "--job", "shaft-seal");
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toMatch(/Optimal: 80 person-minutes of labour/);
    expect(stdout).toMatch(/Freedom at [\s\S]* reached nothing fixed/);
    for (const id of ["coupling", "suction-hose", "flange-bolts"]) expect(stdout).toContain(id);
  });

  test("--json has at least what outside checks rely on, and the shape that is published", async () => {
    const document = releaseDocument.parse(
      JSON.parse((await called("release", PUMP, "--job", "shaft-seal", "--json")).stdout),
    );
    expect(document).toMatchObject({
      status: "optimal",
      labour: 80,
      bound: 80,
      lifted: ["pump", "valve"],
      setAside: ["guard"],
    });
    const released = document.order.flatMap((step) => ("release" in step ? [step.release] : []));
    expect(new Set(document.releases.map(({ id }) => id))).toEqual(new Set(released));
    expect(document.order.some((step) => "do" in step && step.do === "lift-off")).toBe(true);
    expect(document.proof?.free).toEqual([{ lift: "lift-off", group: ["pump", "valve"], searched: 1, free: true }]);
  });

  test("a part told to stay costs what it costs, and the answer says so", async () => {
    const kept = releaseDocument.parse(
      JSON.parse((await called("release", PUMP, "--job", "shaft-seal", "--keep", "valve", "--json")).stdout),
    );
    expect(kept.lifted).toEqual(["pump"]);
    expect(kept.labour).toBe(82);
  });

  test("what cannot be done is exit 1 and says what the order lacks", async () => {
    const { status, stdout } = await called("release", PUMP, "--job", "shaft-seal", "--without-tool", "sling 0.5 t");
    expect(status).toBe(1);
    expect(stdout).toMatch(/Infeasible/);
    expect(stdout).toMatch(/Sling the pump .*: no sling 0\.5 t/);
    expect(stdout).toMatch(
      /These cannot all hold; without any one of them there is a plan:\n {2}- there is no sling 0\.5 t\n/,
    );
  });

  test("a part tied for good is infeasible, with the tie that does it by name", async () => {
    const path = edit(PUMP, [
      "connections:\n",
      "connections:\n  weld: { label: Weld, joins: [pump, stand], kind: bolted joint, release: [] }\n",
    ]);
    const { status, stdout } = await called("release", path, "--job", "shaft-seal", "--json");
    expect(status).toBe(1);
    const document = releaseDocument.parse(JSON.parse(stdout));
    expect(document).toMatchObject({ status: "infeasible", labour: null, bound: null, releases: [], order: [] });
    expect(document.conflict?.rules[0]).toBe('"Weld" (weld) is never released: the file gives it no way');
  });

  test("faults in the file: exit 1, all of them on standard error, and with --json the check's document", async () => {
    const path = edit(PUMP, ["needs: [lift-off]", "needs: [lift-of]"], ["mass: 4 kg ± 2 %", "mass: 4"]);
    const { status, stdout, stderr } = await called("release", path, "--job", "shaft-seal");
    expect([status, stdout]).toEqual([1, ""]);
    expect(stderr).toMatch(/2 faults/);
    expect(
      checkDocument.parse(JSON.parse((await called("release", path, "--job", "shaft-seal", "--json")).stdout)).faults,
    ).toHaveLength(2);
  });
});

describe("plan", () => {
  test("the whole sequence, out and back, and what holds it up", async () => {
    const { status, stdout, stderr } = await called("plan", PUMP, "--job", "shaft-seal");
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toMatch(/replayed \d+ steps/);
    expect(stdout.indexOf("Release: Bolts of the pump flange")).toBeLessThan(
      stdout.indexOf("Refit: Bolts of the pump flange"),
    );
  });

  test("--json numbers every step once, takes the same labour as release, and has the published shape", async () => {
    const plan = planDocument.parse(JSON.parse((await called("plan", PUMP, "--job", "shaft-seal", "--json")).stdout));
    const steps = [...plan.out, ...plan.work, ...plan.back].flatMap((visit) => visit.steps);
    expect(steps.map(({ number }) => number)).toEqual(steps.map((_, index) => index + 1));
    expect(plan.figures.labour).toBe(80);
    expect(plan.checks.out.legal && plan.checks.back.holds).toBe(true);
  });

  test("without a plan it says what release says", async () => {
    const { status, stdout } = await called("plan", PUMP, "--job", "shaft-seal", "--without-tool", "sling 0.5 t");
    expect(status).toBe(1);
    expect(stdout).toMatch(/Infeasible/);
  });
});

test("--others says what every other job would add, against by itself", async () => {
  const document = releaseDocument.parse(
    JSON.parse((await called("release", PUMP, "--job", "shaft-seal", "--others", "--json")).stdout),
  );
  expect(document.others?.map(({ job }) => job).toSorted()).toEqual(["coupling-element", "relief-valve"]);
  // The coupling is open in any case: its element costs no release of its own.
  expect(document.others?.find(({ job }) => job === "coupling-element")).toMatchObject({
    now: 0,
    alone: 13,
    proved: true,
  });
});

describe("why", () => {
  const why = (...words: string[]) => called("why", PUMP, "--job", "shaft-seal", ...words);

  test("a release of the plan: the chain to the job, and what its other way would cost", async () => {
    const { status, stdout, stderr } = await why("coupling");
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toMatch(
      /^Clamp screws of the shaft coupling, with the guard off \(coupling\) is released, because\n/,
    );
    expect(stdout).toMatch(
      /1\. Without .*\(coupling\)[\s\S]*still tied[\s\S]*\(shaft-seal\/work-1\)[\s\S]*the order itself/,
    );
    expect(stdout).toMatch(/Without it: no plan\./);
    // docs/bench-pump.md: with the guard left on, 82.
    expect(stdout).toMatch(/\(coupling\/2\): 2 person-minutes more;\s+spared guard-screws/);
  });

  test("a tie that stays on: what releasing it would add", async () => {
    const document = whyDocument.parse(JSON.parse((await why("valve-bolts", "--json")).stdout));
    expect(document).toMatchObject({ id: "valve-bolts", made: false, chain: [], labour: 80 });
    expect(document.ways).toMatchObject([{ way: "valve-bolts/1", with: { status: "optimal", labour: 82, more: 2 } }]);
    expect(document.ways[0]?.with.spares.toSorted()).toEqual(["pressure-hose", "return-hose"]);
  });

  test("a task by its id, and a name that is none", async () => {
    expect((await why("sling")).stdout).toMatch(/\(sling\) is done, because[\s\S]*nothing holds "Piston pump"/);
    const { status, stderr } = await why("couplin");
    expect(status).toBe(2);
    expect(stderr).toMatch(/no connection or task called couplin\. Nearest: coupling\./);
  });

  test("release --reasons gives them all, and what each part at the edge would cost on the other side", async () => {
    const document = releaseDocument.parse(
      JSON.parse((await called("release", PUMP, "--job", "shaft-seal", "--reasons", "--json")).stdout),
    );
    const made = [...document.releases.map(({ id }) => id), ...document.tasks];
    expect(Object.keys(document.reasons ?? {}).toSorted()).toEqual(made.toSorted());
    for (const chain of Object.values(document.reasons ?? {})) expect(chain.at(-1)?.step).toBe("shaft-seal/work-1");
    expect(document.edge).toMatchObject([{ part: "valve", goes: true, otherwise: { labour: 82, more: 2 } }]);
  });
});

describe("a new user edits the demo", () => {
  const PLOVER = "demo/plover-28.vehicle.yaml";
  const add = (lines: string): string => edit(PLOVER, ["\nconnections:\n", `\nconnections:\n${lines}\n`]);
  const release = async (path: string) =>
    releaseDocument.parse(JSON.parse((await called("release", path, "--job", "clutch-plate", "--json")).stdout));

  test("a hose more between engine and frame is released too, at its own cost", async () => {
    const before = await release(PLOVER);
    const after = await release(
      add(
        "  my-hose: { joins: [engine, frame], kind: hose, release: [{ at: left, time: 3 min }], refit: { time: 4 min } }",
      ),
    );
    expect(before.status).toBe("optimal");
    expect(after.status).toBe("optimal");
    expect(after.releases.map(({ id }) => id)).toContain("my-hose");
    expect((after.labour ?? 0) - (before.labour ?? 0)).toBe(7);
  });

  test("a misspelt id is told with its line and the nearest name", async () => {
    const { status, stderr } = await called(
      "release",
      add("  my-hose: { joins: [engin, frame], kind: hose, release: [{ at: left, time: 3 min }] }"),
      ...["--job", "clutch-plate"],
    );
    expect(status).toBe(1);
    expect(stderr).toMatch(/edited\.vehicle\.yaml:\d+:\d+ .*"engin"[\s\S]*Nearest: engine, a part \(line \d+\)/);
  });

  test("an engine tied to the frame for good cannot come out, and the tie is named", async () => {
    const answer = await release(add("  weld: { joins: [engine, frame], kind: bolted joint, release: [] }"));
    expect(answer.status).toBe("infeasible");
    expect(answer.conflict?.rules.join("\n")).toMatch(/\(weld\) is never released: the file gives it no way/);
  });

  test("and `free` names it in the chain", async () => {
    const path = add("  weld: { joins: [engine, frame], kind: bolted joint, release: [] }");
    const cut = (await release(PLOVER)).releases.map(({ id }) => id);
    const { status, stdout } = await called("free", path, "--released", cut.join(","), "--take", "engine");
    expect(status).toBe(1);
    expect(stdout).toMatch(/Still tied: Engine\.[\s\S]*\(weld\), bolted joint/);
    expect((await called("free", PLOVER, "--released", cut.join(","), "--take", "engine")).status).toBe(0);
  });
});

describe("free", () => {
  const CUT = "coupling,suction-hose,case-drain,pressure-hose,return-hose,flange-bolts";

  test("with the whole cut released: free, exit 0", async () => {
    const { status, stdout } = await called("free", PUMP, "--released", CUT);
    expect(status).toBe(0);
    expect(stdout).toMatch(/Free: .*Piston pump, Relief valve block/);
  });

  test("with one hose left: tied, exit 1, the hose by name and position", async () => {
    const { status, stdout } = await called("free", PUMP, "--released", CUT.replace("return-hose,", ""));
    expect(status).toBe(1);
    expect(stdout).toMatch(/Return hose at the relief valve \(return-hose\), hose; Near side of the stand/);
    const document = freeDocument.parse(
      JSON.parse((await called("free", PUMP, "--released", CUT.replace("return-hose,", ""), "--json")).stdout),
    );
    expect(document.free).toBe(false);
    expect(document.groups[0]?.ties.map(({ id }) => id)).toEqual(["return-hose"]);
    expect(document.groups[0]?.chain.at(-1)?.id).toBe("stand");
  });
});

test("a limit that is too short for any answer is exit 3 or gives one with its gap", async () => {
  const { status, stdout } = await called(
    "release",
    "demo/plover-28.vehicle.yaml",
    "--job",
    "swap-unit",
    "--within",
    "0.001",
    "--json",
  );
  const document = releaseDocument.parse(JSON.parse(stdout));
  expect({ unknown: 3, feasible: 0, optimal: 0, infeasible: 1 }[document.status]).toBe(status);
});

describe("as a process of its own", () => {
  test.each([
    [0, ["release", PUMP, "--job", "shaft-seal"]],
    [1, ["release", PUMP, "--job", "shaft-seal", "--without-tool", "sling 0.5 t"]],
    [2, ["relase", PUMP]],
    [0, ["plan", PUMP, "--job", "relief-valve", "--crew", "2"]],
    [0, ["finish", PUMP, "--job", "relief-valve", "--crew", "2", "--runs", "200"]],
    [0, ["lift", "demo/pump.rig.yaml"]],
    [1, ["torque", "M6", "8.8", "--torque", "45Nm"]],
  ])("exit code %i, and each stream, without colour, as here: %j", async (status, words) => {
    expect(spawned(...words)).toMatchObject({ ...(await called(...words)), status });
  });

  test("a reader that has seen enough is no fault", async () => {
    const child = spawn("node", [entry, "release", PUMP, "--job", "shaft-seal"], {
      cwd: root,
      stdio: ["ignore", "pipe", "pipe"],
    });
    child.stdout.destroy();
    let errors = "";
    child.stderr.on("data", (text) => {
      errors += text;
    });
    const code = await new Promise((resolve) => child.on("exit", resolve));
    expect([code, errors]).toEqual([0, ""]);
  });
});

test("an included file is found beside the file that includes it", async () => {
  const base = join(folder, "with-include");
  mkdirSync(base);
  const text = readFileSync(join(root, PUMP), "utf8");
  const cut = text.indexOf("tasks:\n");
  writeFileSync(join(base, "ties.yaml"), text.slice(text.indexOf("connections:\n"), cut));
  writeFileSync(
    join(base, "main.vehicle.yaml"),
    text
      .slice(0, text.indexOf("connections:\n"))
      .replace("format: unmoor/1\n", "format: unmoor/1\ninclude: ties.yaml\n") + text.slice(cut),
  );
  const { status, stdout } = await called("check", join(base, "main.vehicle.yaml"));
  expect(stdout).toContain("8 connections");
  expect(status).toBe(0);
});
