// Includes: what two files say together, whose word is last, and what is refused in bounded time.
import { describe, expect, test } from "vitest";
import { MAIN, SOUND } from "./fixture/corpus.ts";
import { type Load, readVehicle, readVehicleWhole, sentence } from "./index.ts";

const from =
  (files: Readonly<Record<string, string>>): Load =>
  (path) =>
    files[path] ?? { missing: "no such file" };
const read = (files: Readonly<Record<string, string>>, main = MAIN) => readVehicle(main, from(files));

describe("what files say together", () => {
  const axles = `parts:
  axle: { mass: 20 kg }
connections:
  axle-bolts: { joins: [axle, frame], kind: flange, release: { at: side, time: 9 min }, refit: { torque: 90 N·m } }
tasks:
  polish: { time: 1 min }
vehicle: { name: A base, note: of the base }
limits: { hand: 30 kg }
`;
  const reading = read({ [MAIN]: SOUND.replace("positions:", "include: axles.yaml\npositions:"), "axles.yaml": axles });

  test("maps from ids are put together, each id where it was written", () => {
    expect(reading.faults.map(sentence)).toEqual([]);
    expect(reading.vehicle?.parts.map(({ id }) => id)).toEqual(["axle", "frame", "pump", "guard"]);
    expect(reading.place("axle-bolts")).toEqual({ file: "axles.yaml", line: 4, column: 3 });
    expect(reading.place("hose")).toMatchObject({ file: MAIN });
  });
  test("of settings the file that includes has the last word, key by key", () => {
    expect(reading.vehicle).toMatchObject({
      name: "Test rig",
      note: "of the base",
      limits: { hand: 30, handIsDefault: false },
    });
  });
  test("a warning names the file that it is about", () => {
    expect(reading.warnings.map(sentence).join()).toMatch(/^axles\.yaml:6:11 {2}nothing needs polish/);
  });
  test("the files are told, the main one first", () => {
    expect(reading.files).toEqual([MAIN, "axles.yaml"]);
  });
  test("a fault in an included file names that file, and comes after those of the main one", () => {
    const { faults } = read({
      [MAIN]: SOUND.replace("positions:", "include: axles.yaml\npositions:").replace(
        "needs: [drain]",
        "needs: [drian]",
      ),
      "axles.yaml": axles.replace("9 min", "9"),
    });
    expect(faults.map(({ at }) => at.file)).toEqual([MAIN, "axles.yaml"]);
  });
  test("a file that cannot be read does not hide what is wrong in the others by themselves", () => {
    const { faults } = read({
      [MAIN]: SOUND.replace("positions:", "include: [axles.yaml, gone.yaml]\npositions:").replace(
        "time: 10 min",
        "time: 10",
      ),
      "axles.yaml": "parts: [",
    });
    expect(faults.map(({ rule }) => rule)).toEqual(["no-file", "quantity-no-unit", "syntax"]);
  });
});

describe("paths", () => {
  test("are taken from the file that includes, and stay below the folder of the main one", () => {
    const { faults, files } = read(
      {
        "demo/main.vehicle.yaml": SOUND.replace("positions:", "include: base/a.yaml\npositions:"),
        "demo/base/a.yaml": "include: [b.yaml, ../c.yaml, ./b.yaml]\n",
        "demo/base/b.yaml": "limits: { hand: 10 kg }\n",
        "demo/c.yaml": "limits: { margin: 1 cm }\n",
      },
      "demo/main.vehicle.yaml",
    );
    expect(faults.map(sentence)).toEqual([]);
    expect(files).toEqual(["demo/main.vehicle.yaml", "demo/base/a.yaml", "demo/base/b.yaml", "demo/c.yaml"]);
  });
  test.each([
    "../other/a.yaml",
    "/etc/passwd",
    "a/../../../b.yaml",
    "..",
    "C:\\windows\\a.yaml",
    "file:///etc/passwd",
    "https://example.org/a.yaml",
    "base/../../demo2/a.yaml",
  ])("%s is refused without being asked for", (path) => {
    const asked: string[] = [];
    const main = SOUND.replace("positions:", `include: ['${path}']\npositions:`);
    const { faults } = readVehicle("demo/main.vehicle.yaml", (wanted) => {
      asked.push(wanted);
      return main;
    });
    expect(faults.map(({ rule }) => rule)).toEqual(["include-outside"]);
    expect(asked).toEqual(["demo/main.vehicle.yaml"]);
  });
  test("a main file above where the user stands may include beside it and below", () => {
    const { faults } = read(
      {
        "../v/main.yaml": SOUND.replace("positions:", "include: [a.yaml, ../v/b.yaml]\npositions:"),
        "../v/a.yaml": "first: []\n",
        "../v/b.yaml": "first: []\n",
      },
      "../v/main.yaml",
    );
    expect(faults.map(sentence)).toEqual([]);
  });
});

describe("variants of one base", () => {
  const base = `parts:
  axle: { mass: 20 kg }
  cooler: { mass: 4 kg }
connections:
  axle-bolts: { joins: [axle, frame], kind: flange, release: { at: side, time: 9 min }, refit: { torque: 90 N·m } }
  cooler-clip: { joins: [cooler, frame], kind: clip, release: { at: side, time: 1 min } }
shop:
  people: { ana: { skills: [fitter] } }
`;
  const variant = (more: string, files: Readonly<Record<string, string>> = {}) =>
    read({
      [MAIN]: SOUND.replace("positions:", `include: base.yaml\n${more}\npositions:`),
      "base.yaml": base,
      ...files,
    });

  test("[O1] what is omitted and written anew stands for what the base says, with nothing left of that", () => {
    const { faults, vehicle, place } = read({
      [MAIN]: SOUND.replace("positions:", "include: base.yaml\nomits: axle\npositions:").replace(
        "parts:",
        "parts:\n  axle: { centre: [1 m, 0 m, 0 m] }",
      ),
      "base.yaml": base,
    });
    expect(faults.map(sentence)).toEqual([]);
    const axle = vehicle?.parts.filter(({ id }) => id === "axle");
    expect(axle).toMatchObject([{ id: "axle", centre: [1, 0, 0] }]);
    expect(axle?.[0]).not.toHaveProperty("mass");
    expect(place("axle")?.file).toBe(MAIN);
  });
  test("[O2] what is omitted and not written anew is gone, people and eyes as well", () => {
    const { faults, vehicle } = variant("omits: [cooler, cooler-clip, ana]");
    expect(faults.map(sentence)).toEqual([]);
    expect(vehicle?.parts.map(({ id }) => id)).toEqual(["axle", "frame", "pump", "guard"]);
    expect(vehicle?.shop.people.map(({ id }) => id)).not.toContain("ana");
  });
  test("[O3] who still names what is gone is told where it went", () => {
    const { faults } = variant("omits: cooler");
    expect(faults.map(sentence)).toEqual([
      expect.stringMatching(/^base\.yaml:6:26 {2}cooler-clip joins cooler, and that is omitted \(.*:\d+\)\.\n.*omit/),
    ]);
  });
  test("[O4] an id in two files is a fault, and its mend names omits", () => {
    const { faults } = read({
      [MAIN]: SOUND.replace("positions:", "include: base.yaml\npositions:").replace("parts:", "parts:\n  axle: {}"),
      "base.yaml": base,
    });
    expect(faults.map(({ rule }) => rule)).toEqual(["id-twice"]);
    expect(faults[0]?.at.file).toBe(MAIN);
    expect(faults[0]?.mend).toContain("omits: axle");
  });
  test("[O5] an included file omits of those before it, and not of the one that includes it", () => {
    const files = { "narrow.yaml": "include: base.yaml\nomits: [cooler, cooler-clip]\n" };
    const narrow = (main: string) => read({ [MAIN]: SOUND.replace("positions:", main), "base.yaml": base, ...files });
    expect(narrow("include: narrow.yaml\npositions:").vehicle?.parts.map(({ id }) => id)).not.toContain("cooler");
    const again = "include: narrow.yaml\npositions:";
    const { faults, vehicle } = read({
      [MAIN]: SOUND.replace("positions:", again).replace("parts:", "parts:\n  cooler: { mass: 9 kg }"),
      "base.yaml": base,
      ...files,
    });
    expect(faults.map(sentence)).toEqual([]);
    expect(vehicle?.parts.find(({ id }) => id === "cooler")?.mass?.nominal).toBe(9);
  });
  test("[O6] a list of anything but ids is a fault, in an included file too, and nothing is omitted that cannot be read", () => {
    const wrong = { "narrow.yaml": "omits: [{ cooler: true }]\n" };
    expect(
      variant("", { "base.yaml": `include: narrow.yaml\n${base}`, ...wrong }).faults.map(({ rule }) => rule),
    ).toEqual(["wrong-form"]);
    expect(variant("omits: axle", { "base.yaml": "parts: [" }).faults.map(({ rule }) => rule)).toEqual(["syntax"]);
  });
});

// Time that grew with the square of these sizes would be many minutes; the limit is wide, for a machine that others use as well.
describe("what is meant to harm is refused in bounded time", { timeout: 60_000 }, () => {
  const refused = async (text: string, ...rules: readonly string[]): Promise<void> => {
    const { faults, vehicle } = await readVehicleWhole(MAIN, from({ [MAIN]: text }));
    expect(vehicle).toBeUndefined();
    expect(faults.length).toBeGreaterThan(0);
    for (const rule of rules) expect(faults.map((each) => each.rule)).toContain(rule);
  };
  test("fifty megabytes", () => refused("x: 1\n".repeat(10_000_000), "file-too-large"));
  test("a thousand brackets deep", () => refused(`a: ${"[".repeat(1000)}${"]".repeat(1000)}`, "syntax"));
  test("half a million open brackets", () => refused("[".repeat(500_000), "syntax"));
  test("a hundred thousand keys deep in one line", () => refused("a: ".repeat(100_000), "syntax"));
  test("a need of two hundred thousand misspelt ids", () =>
    refused(SOUND.replace("needs: [drain]", `needs: [${"drian, ".repeat(200_000)}]`), "unknown-id", "too-many-faults"));
  test("a hundred thousand wrong keys", () =>
    refused(
      SOUND + Array.from({ length: 100_000 }, (_, i) => `key${i}: 1\n`).join(""),
      "unknown-key",
      "too-many-faults",
    ));
  test("an alias in the value that it names", () => refused("a: &a [*a]\n", "alias"));
  test("aliases of aliases that are not quite a bomb", () =>
    refused(`a: &a [x,x,x,x,x,x,x,x,x,x]\nb: &b [${"*a,".repeat(1000)}]\nfirst: [${"*b,".repeat(100)}]`));
  test("names that a program might trip over are ids like any other, or are refused", async () => {
    const text = SOUND.replace("  guard: {", "  constructor: { mass: 1 kg }\n  guard: {").replace(
      "joins: [guard, frame]",
      "joins: [guard, frame, constructor]",
    );
    expect(read({ [MAIN]: text }).faults.map(sentence)).toEqual([]);
    await refused(
      SOUND.replace("vehicle: {", "vehicle: { __proto__: { polluted: true }, constructor: 1,"),
      "unknown-key",
    );
    await refused(SOUND.replace("  guard: {", "  __proto__: { mass: 1 kg }\n  guard: {"), "bad-id");
    await refused(SOUND.replace("needs: [drain]", "needs: [toString]"), "unknown-id");
    expect(Object.hasOwn(Object.prototype, "polluted")).toBe(false);
  });
  test("an id of a million letters", () => refused(SOUND.replace("  guard: {", `  ${"g".repeat(1_000_000)}: {`)));
});

describe("how a file may be written", () => {
  test("with lines ended as on Windows, and with a byte order mark, places are the same", () => {
    const broken = SOUND.replace("needs: [drain]", "needs: [drian]");
    const plain = read({ [MAIN]: broken }).faults;
    expect(read({ [MAIN]: broken.replaceAll("\n", "\r\n") }).faults).toEqual(plain);
    expect(read({ [MAIN]: `\uFEFF${broken}` }).faults).toEqual(plain);
  });
  test("with anchors for what repeats, and a mistake in one told once", () => {
    const text = SOUND.replace(
      "kind: clip, release: {",
      "kind: clip, hardware: &h [{ item: clip 12, count: 0 }], release: {",
    ).replace("kind: cable,", "kind: cable, hardware: *h,");
    expect(read({ [MAIN]: text }).faults.map(({ rule }) => rule)).toEqual(["not-a-count"]);
    expect(read({ [MAIN]: text.replace("count: 0", "count: 2") }).vehicle?.connections[4]?.hardware[0]?.count).toBe(2);
  });
  test("in any order of keys", () => {
    const [head, tail] = SOUND.split(/(?=^tasks:)/m) as [string, string];
    const { faults, vehicle } = read({ [MAIN]: `${tail}${head}` });
    expect(faults).toEqual([]);
    expect(vehicle).toEqual(read({ [MAIN]: SOUND }).vehicle);
  });
});
