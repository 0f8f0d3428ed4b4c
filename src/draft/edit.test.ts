// What is done to a draft by hand changes what it is about and nothing else; whatever is done in whatever order, the file still reads.
import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { expect, test } from "vitest";
import { KINDS, readVehicle } from "../vehicle/index.ts";
import {
  beginDraft,
  beginHistory,
  DOES,
  draftVehicle,
  type Edit,
  edit,
  extendDraft,
  notesOf,
  present,
  record,
  redo,
  undo,
} from "./index.ts";

const folder = new URL("../../demo/narrations/", import.meta.url);
const drafts = readdirSync(folder)
  .filter((name) => !name.endsWith(".json"))
  .map((file) => {
    const draft = draftVehicle([{ file, text: readFileSync(new URL(file, folder), "utf8") }]);
    if (!("yaml" in draft)) throw new Error(file);
    return draft.yaml;
  });
const plover = readFileSync(new URL("../../demo/plover-28.vehicle.yaml", import.meta.url), "utf8");
const read = (text: string) => readVehicle("d", () => text);
const faultsOf = (text: string) => read(text).faults.map(({ what }) => what);

/** @throws where it is refused */
const done = (text: string, asked: Edit): string => {
  const edited = edit(text, asked);
  if ("what" in edited) throw new Error(edited.what);
  expect(faultsOf(edited.text)).toEqual([]);
  return edited.text;
};

const FILE = `format: unmoor/1
vehicle: { name: Cart }   # told on Tuesday
first: [lead]
positions:
  left: { label: Left side }
  # room for one
  right: { label: Right side }
parts:
  frame: { label: Frame, fixed: true }
  engine: { label: Engine, mass: "?" }
  # line 3: the starter comes out
  starter-part: { label: Starter, mass: 9 kg }
connections:
  # line 1: the lead
  lead:
    label: Lead
    joins: [engine, frame]
    kind: cable
    release: { at: left, time: 1 min }  # time by kind

  # line 2: two hoses
  # assumed: its kind, from its name
  hoses:
    label: Hoses
    joins: [engine, frame]
    kind: hose
    holds: { fluid: coolant, amount: "?" }  # assumed from its name
    hardware: { item: clip, count: 3 }
    # needs drain: it holds coolant
    # needs lead: it lies under it
    release: { at: left, time: 2 min, needs: [drain, lead] }  # time by kind
  # line 3: starter bolts
  starter-bolts:
    label: Starter bolts
    joins: [starter-part, engine]
    kind: bolted joint
    hardware: { item: bolt, count: 2 }
    release:
      - at: right
        time: 3 min   # measured by Ana
        needs:
          - hoses
          - any: [lead, starter-part]
  # line 4: and the pipes again
  pipes:
    joins: [engine, frame]
    kind: hose
    hardware: { item: clip, count: "?" }
    release: { at: right, time: 2 min, needs: [hoses] }
tasks:
  drain: { label: Drain, at: left, time: 5 min, drains: [coolant] }
jobs:
  out: { label: Engine out, needs: [out: engine] }
`;

test("accepted: what was assumed of it goes, what else stands there stays", () => {
  expect(done(FILE, { is: "accept", id: "hoses" })).toBe(
    FILE.replace("  # assumed: its kind, from its name\n", "").replace("  # assumed from its name", ""),
  );
  expect(notesOf(FILE).find(({ id }) => id === "hoses")).toEqual({
    id: "hoses",
    section: "connections",
    assumed: ["its kind, from its name", "holds, from its name"],
    said: [{ line: 2, words: "two hoses" }],
  });
});

test("merged: one is left with the words of both, the larger count, and whatever named the other", () => {
  const text = done(FILE, { is: "merge", id: "pipes", with: "hoses" });
  expect(text).not.toContain("pipes:");
  expect(text).toContain(
    "  # line 2: two hoses\n  # assumed: its kind, from its name\n  # line 4: and the pipes again\n  hoses:\n",
  );
  expect(text).toContain("needs: [drain, lead] }  # time by kind");
  expect(text).toContain("hardware: { item: clip, count: 3 }");
  const counted = FILE.replace('count: "?" }', "count: 2 }");
  expect(done(counted, { is: "merge", id: "hoses", with: "pipes", together: true })).toContain("count: 5 }");
  // What needed the one that went needs the one that is left.
  expect(done(FILE, { is: "merge", id: "lead", with: "hoses" })).toContain(
    "          - lead\n          - any: [lead, starter-part]\n",
  );
});

test("split: half of the hardware each, and what needs the one needs both", () => {
  const text = done(FILE, { is: "split", id: "hoses" });
  expect(text).toContain('    label: "Hoses, first"\n');
  expect(text).toContain('  hoses-second:\n    label: "Hoses, second"\n');
  expect([...text.matchAll(/item: clip, count: (\d)/g)].map(([, n]) => n)).toEqual(["2", "1"]);
  expect(text).toContain("          - hoses\n          - hoses-second\n");
  expect(text).toContain("needs: [hoses, hoses-second] }");
});

test("moved to a position that is there, and to one that is made", () => {
  expect(done(FILE, { is: "move", id: "lead", to: { id: "right" } })).toBe(
    FILE.replace("release: { at: left, time: 1 min }", "release: { at: right, time: 1 min }"),
  );
  const text = done(FILE, { is: "move", id: "starter-bolts", to: { label: "underneath, at the back" } });
  expect(text).toContain(
    '  right: { label: Right side }\n  underneath-at-the-back: { label: "Underneath, at the back" }\n',
  );
  expect(text).toContain("      - at: underneath-at-the-back\n        time: 3 min   # measured by Ana\n");
});

test("marked as a part, what was told of is what holds it; as a connection again, all is as it was but its joins", () => {
  const text = done(FILE, { is: "part", id: "pipes" });
  expect(text).toContain('  pipes-part: { label: Pipes, mass: "?" }\n');
  expect(text).toContain(
    "  # assumed: what holds it was not said\n  pipes:\n    joins: [pipes-part, engine]\n    kind: bolted joint\n",
  );
  const back = done(text, { is: "connection", id: "pipes-part" });
  expect(back).toContain("  # line 4: and the pipes again\n  pipes:\n    label: Pipes\n    joins: [engine, frame]\n");
  const without = done(FILE, { is: "connection", id: "starter-part" });
  expect(without).toContain("    label: Starter\n    joins: [engine, frame]\n");
  expect(without).not.toContain("starter-part");
  const vain = edit(FILE, { is: "connection", id: "engine" });
  expect("what" in vain ? vain.what : "").toMatch(/it is what comes out/);
});

test("deleted: with everything that names it, and no comment of another", () => {
  const text = done(FILE, { is: "delete", id: "lead" });
  expect(text).not.toMatch(/\blead\b/);
  expect(text).not.toContain("first:");
  expect(text).toContain("needs: [drain] }  # time by kind");
  expect(text).toContain("          - any: [starter-part]\n");
  expect(text).toContain("# told on Tuesday");
  // A part goes with what alone held it, unless somebody weighed it.
  const guessed = FILE.replace("mass: 9 kg", 'mass: "?"');
  expect(done(guessed, { is: "delete", id: "starter-bolts" })).not.toContain("starter-part");
  expect(done(FILE, { is: "delete", id: "starter-bolts" })).toContain(
    "  starter-part: { label: Starter, mass: 9 kg }\n",
  );
  expect(done(text, { is: "delete", id: "hoses" })).toContain("        needs:\n          - any: [starter-part]\n");
});

test("changed: name, kind, count and what it joins, in their places", () => {
  const text = done(FILE, {
    is: "change",
    id: "pipes",
    label: "Return: hot",
    kind: "line",
    count: 4,
    joins: [{ id: "engine" }, { label: "radiator" }],
  });
  expect(text).toContain(
    '    label: "Return: hot"\n    joins: [engine, radiator]\n    kind: line\n    hardware: { item: clip, count: 4 }\n',
  );
  expect(text).toContain('  radiator: { label: Radiator, mass: "?" }\n');
});

test("before anything else, and before one thing: in its list, and taken out of it again", () => {
  const first = done(FILE, { is: "first", id: "pipes", isFirst: true });
  expect(first).toBe(FILE.replace("first: [lead]", "first: [lead, pipes]"));
  expect(done(first, { is: "first", id: "pipes", isFirst: false })).toBe(FILE);
  const lines = FILE.replace("first: [lead]", "first:\n- lead");
  expect(done(lines, { is: "first", id: "pipes", isFirst: true })).toBe(first);
  const none = done(FILE, { is: "first", id: "lead", isFirst: false });
  expect(none).toBe(FILE.replace("first: [lead]\n", ""));
  expect(done(none, { is: "first", id: "lead", isFirst: true })).toBe(FILE);
  const waits = done(FILE, { is: "wait", id: "pipes", on: "drain", isNeeded: true });
  expect(waits).toBe(FILE.replace("needs: [hoses] }", "needs: [hoses, drain] }"));
  expect(done(waits, { is: "wait", id: "pipes", on: "drain", isNeeded: false })).toBe(FILE);
  expect(done(FILE, { is: "wait", id: "lead", on: "drain", isNeeded: true })).toContain(
    "release: { at: left, time: 1 min, needs: [drain] }",
  );
  expect(done(FILE, { is: "wait", id: "drain", on: "lead", isNeeded: true })).toContain(
    "drains: [coolant], needs: [lead] }",
  );
  expect(done(FILE, { is: "wait", id: "hoses", on: "lead", isNeeded: false })).not.toContain("# needs lead");
});

test("a task is added with what waits for it, and its minutes and people are changed where they stand", () => {
  const drain = { is: "add-task", does: "drain", label: "Drain: all of it", minutes: 12.5, people: 2 } as const;
  // What holds the fluid waits for it; nothing else is touched.
  expect(done(FILE, { ...drain, of: "coolant", at: { id: "left" } })).toBe(
    FILE.replace("{ label: Left side }", "{ label: Left side, people: 2 }  # room assumed")
      .replace("needs: [drain, lead] }", "needs: [drain, lead, drain-all-of-it] }")
      .replace(
        "drains: [coolant] }\n",
        'drains: [coolant] }\n  drain-all-of-it: { label: "Drain: all of it", at: left, time: 12.5 min, people: 2, drains: [coolant], amount: "?" }\n',
      ),
  );
  // Where there is no task yet the section is made.
  const bare = beginDraft("Cart", "engine");
  const raised = done(bare, { is: "add-task", does: "raise", label: "Jack up", minutes: 9, people: 1, undo: "Lower" });
  expect(raised).toContain(
    "tasks:\n  jack-up: { label: Jack up, time: 9 min, undo: { label: Lower, time: 5 min } }\njobs:",
  );
  const off = done(FILE, { is: "add-task", does: "isolate", label: "24 V off", minutes: 2, people: 1, of: "24 V" });
  expect(read(off).vehicle?.first).toEqual(["lead", "24-v-off"]);
  expect(edit(FILE, drain)).toMatchObject({ what: "nothing says what to drain" });
  expect(edit(FILE, { is: "change", id: "drain", minutes: Number.NaN })).toMatchObject({ what: "that is no time" });
  const marked = FILE.replace("drains: [coolant] }", "drains: [coolant] }  # time assumed");
  expect(done(marked, { is: "change", id: "drain", minutes: 7, people: 2 })).toBe(
    FILE.replace("{ label: Left side }", "{ label: Left side, people: 2 }  # room assumed").replace(
      "time: 5 min, drains: [coolant] }",
      "time: 7 min, drains: [coolant], people: 2 }",
    ),
  );
  // Where somebody said for how many there is room, that stands.
  const narrow = FILE.replace("{ label: Left side }", "{ label: Left side, people: 1 }");
  expect(edit(narrow, { is: "change", id: "drain", people: 2 })).toMatchObject({
    what: expect.stringMatching(/room for 1/),
  });
});

test("the vehicle itself is named, and nothing else of its line is touched", () => {
  expect(done(FILE, { is: "name", label: "Cart, long" })).toBe(FILE.replace("name: Cart", 'name: "Cart, long"'));
});

test("from nothing, by five answers: kind, side, from, to, count", () => {
  const text = done(beginDraft("Cart: new", "power unit"), {
    is: "add",
    kind: "hose",
    at: { label: "Left side" },
    joins: [{ label: "Power unit" }, { label: "radiator" }],
    count: 2,
  });
  const { vehicle } = read(text);
  expect(vehicle?.connections[0]).toMatchObject({
    label: "Hose, power unit to radiator",
    kind: "hose",
    joins: ["power-unit", "radiator"],
  });
  expect(vehicle?.connections[0]?.ways[0]).toMatchObject({ at: "left-side" });
  expect(text.indexOf("positions:")).toBeLessThan(text.indexOf("parts:"));
});

test("told later: it comes in behind what is there, under ids of its own; the same part, position and task are the same", () => {
  const later = draftVehicle([
    { file: "b", text: "On the left side undo the lead. Undo the two fuel lines and drain the fuel first." },
  ]);
  if (!("yaml" in later)) throw new Error("no draft");
  const { text, renamed } = extendDraft(FILE, later.yaml);
  expect([...renamed.values()].every((id) => text.includes(id))).toBe(true);
  expect(faultsOf(text)).toEqual([]);
  expect(text.startsWith(FILE.slice(0, FILE.indexOf("tasks:")))).toBe(true);
  const { vehicle } = read(text);
  expect(vehicle?.connections.map(({ id }) => id)).toEqual([
    "lead",
    "hoses",
    "starter-bolts",
    "pipes",
    "lead-2",
    "fuel-lines",
  ]);
  expect(vehicle?.connections.at(-1)).toMatchObject({ joins: ["engine", "frame"] });
  expect(vehicle?.positions.map(({ id }) => id)).toEqual(["left", "right"]);
  for (const draft of drafts.slice(0, 12))
    for (const other of drafts.slice(-3)) expect(faultsOf(extendDraft(draft, other).text)).toEqual([]);
});

test("what cannot be done is said with its mend, and changes nothing", () => {
  for (const asked of [
    { is: "move", id: "nobody", to: { id: "left" } },
    { is: "move", id: "lead", to: { id: "nowhere" } },
    { is: "merge", id: "lead", with: "lead" },
    { is: "change", id: "lead", count: 0 },
    { is: "change", id: "lead", label: " " },
  ] as const satisfies readonly Edit[])
    expect(edit(FILE, asked)).toMatchObject({ what: expect.any(String), mend: expect.stringMatching(/\.$/) });
});

test("undone and done again; a new change forgets what was undone", () => {
  const three = record(record(beginHistory("a"), "b"), "c");
  expect(present(undo(undo(three)))).toBe("a");
  expect(present(redo(undo(three)))).toBe("c");
  const other = record(undo(three), "d");
  expect([present(redo(other)), present(undo(other))]).toEqual(["d", "b"]);
});

/** Comments of a thing that are not its draft's own. */
const marked = (text: string) => text.split("\n").filter((line) => line.includes("# kept by"));

test("after any changes in any order the file reads, and the comments of what was not touched stay", () => {
  const texts = [...drafts, FILE, plover];
  const step = fc.record({
    is: fc.constantFrom(
      "accept",
      "merge",
      "split",
      "move",
      "part",
      "connection",
      "change",
      "delete",
      "add",
      "add-task",
      "first",
      "wait",
    ),
    one: fc.nat(),
    two: fc.nat(),
    three: fc.nat(),
    flag: fc.boolean(),
  });
  fc.assert(
    fc.property(fc.nat(texts.length - 1), fc.array(step, { minLength: 1, maxLength: 8 }), (which, steps) => {
      let text = texts[which] ?? "";
      for (const { is, one, two, three, flag } of steps) {
        const notes = notesOf(text);
        const ids = (section: string) => notes.filter((note) => note.section === section).map(({ id }) => id);
        const ties = ids("connections");
        const pick = (from: readonly string[], n: number) => from[n % Math.max(1, from.length)] ?? "none";
        const whichever = pick([...ties, ...ids("parts"), ...ids("tasks")], one);
        const to = flag
          ? { label: `place ${two % 3}` }
          : { id: pick(read(text).vehicle?.positions.map(({ id }) => id) ?? [], two) };
        const asked: Edit = {
          accept: { is: "accept", id: whichever } as const,
          merge: { is: "merge", id: pick(ties, one), with: pick(ties, two), together: flag } as const,
          split: { is: "split", id: pick(ties, one) } as const,
          move: { is: "move", id: pick(ties, one), to } as const,
          part: { is: "part", id: pick(ties, one) } as const,
          connection: { is: "connection", id: pick(ids("parts"), one) } as const,
          change: {
            is: "change",
            id: whichever,
            label: `New: name ${two}`,
            kind: KINDS[three % KINDS.length] ?? "hose",
            ...(flag ? { count: (two % 9) + 1 } : {}),
          } as const,
          first: { is: "first", id: pick(ties, one), isFirst: flag } as const,
          wait: { is: "wait", id: pick(ties, one), on: pick(ties, two), isNeeded: flag } as const,
          delete: { is: "delete", id: whichever } as const,
          add: {
            is: "add",
            kind: KINDS[three % KINDS.length] ?? "hose",
            at: to,
            joins: [{ id: pick(ids("parts"), one) }, { label: `part ${two % 4}` }],
            ...(flag ? { count: 2 } : {}),
          } as const,
          "add-task": {
            is: "add-task",
            does: DOES[three % DOES.length] ?? "raise",
            label: `task ${two % 4}`,
            at: to,
            minutes: 1 + (two % 30),
            people: 1 + (three % 3),
            of: flag ? "coolant" : "fuel",
            undo: "Lower",
          } as const,
        }[is];
        // Each thing that is not touched has a comment of its own, and keeps it.
        const touched = new Set([whichever, pick(ties, one), pick(ties, two), pick(ids("parts"), one)]);
        const before = text
          .split("\n")
          .map((line) => {
            const id = /^ {2}([\w-]+):/.exec(line)?.[1];
            return id !== undefined && ties.includes(id) && !touched.has(id) ? `  # kept by ${id}\n${line}` : line;
          })
          .join("\n");
        const edited = edit(before, asked);
        if ("what" in edited) continue;
        expect(marked(edited.text)).toEqual(marked(before));
        text = edited.text.replace(/^ {2}# kept by .*\n/gm, "");
        expect(faultsOf(text), JSON.stringify(asked)).toEqual([]);
      }
    }),
    { numRuns: 25, seed: 12 },
  );
}, 60_000);
