// What was not said is thought anew of the file as it is: right after the telling it is the same, what is mended is gone, and what an edit makes doubtful is there.
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readVehicle } from "../vehicle/index.ts";
import { type Draft, draftVehicle } from "./draft.ts";
import { type Edit, edit } from "./edit.ts";
import { remarksNow } from "./rethink.ts";

const folder = new URL("../../demo/narrations/", import.meta.url);
const drafted = (text: string): Draft => {
  const draft = draftVehicle([{ file: "a", text }]);
  if (!("yaml" in draft)) throw new Error(JSON.stringify(draft));
  return draft;
};
const now = (text: string, { heard }: Pick<Draft, "heard">) => {
  const { vehicle, faults } = readVehicle("d", () => text);
  if (vehicle === undefined) throw new Error(JSON.stringify(faults));
  return remarksNow(text, vehicle, heard === undefined ? [] : [heard]);
};
const rules = (text: string, draft: Draft) => now(text, draft).map(({ rule, about }) => `${rule} ${about.join(" ")}`);
const done = (text: string, ...asked: readonly Edit[]): string =>
  asked.reduce((so, one) => {
    const edited = edit(so, one);
    if ("what" in edited) throw new Error(edited.what);
    return edited.text;
  }, text);

test("of a draft that nobody changed the remarks are those of its telling", () => {
  const names = readdirSync(folder).filter((name) => !name.endsWith(".json"));
  let remarks = 0;
  for (const name of names) {
    const draft = drafted(readFileSync(new URL(name, folder), "utf8"));
    const before = draft.remarks.map(({ text }) => text).sort();
    expect(
      now(draft.yaml, draft)
        .map(({ text }) => text)
        .sort(),
      name,
    ).toEqual(before);
    remarks += before.length;
  }
  expect(remarks).toBeGreaterThan(40);
});

const TALK = `On the left side undo the fuel line. Undo the shift cable, and that's four things on this side.
The brake hose is on both sides, undo it on the left. Underneath, undo the gearbox mount, four bolts.
The breather pipe is there as well. That's everything, the gearbox can come out.`;

test("what is answered or mended is no remark any more", () => {
  const draft = drafted(TALK);
  const told = rules(draft.yaml, draft);
  expect(told.map((one) => one.split(" ")[0])).toEqual(expect.arrayContaining(["no-drain", "no-support"]));
  const drain = draft.yaml.replace(
    "jobs:",
    "tasks:\n  drain: { label: Drain, time: 5 min, drains: [fuel, brake fluid] }\n  jack: { label: Jack, time: 5 min, supports: [gearbox] }\njobs:",
  );
  // A task that nothing waits for says nothing of the order.
  expect(rules(drain, draft)).toEqual(expect.arrayContaining(told.filter((one) => one.startsWith("no-support"))));
  const waiting = done(
    drain,
    ...["fuel-line", "brake-hose"].map((id): Edit => ({ is: "wait", id, on: "drain", isNeeded: true })),
    { is: "wait", id: "gearbox-mount", on: "jack", isNeeded: true },
  );
  expect(rules(waiting, draft).filter((one) => /^no-(drain|support)/.test(one))).toEqual([]);
  for (const remark of told.filter((one) => /^(one-of-both-sides|still-tied|two-names)/.test(one))) {
    const [, id = ""] = remark.split(" ");
    expect(rules(done(draft.yaml, { is: "delete", id }), draft)).not.toContain(remark);
  }
});

test("what an edit makes doubtful is a remark, and what is undone again is none", () => {
  const draft = drafted(
    "Drain the coolant. On the left side undo the heater hose. Undo the exhaust bracket. That's everything.",
  );
  expect(rules(draft.yaml, draft)).toEqual([]);
  const changed = done(draft.yaml, { is: "change", id: "exhaust-bracket", kind: "mount" });
  expect(rules(changed, draft)).toEqual(["no-support exhaust-bracket"]);
  expect(rules(done(changed, { is: "change", id: "exhaust-bracket", kind: "bracket" }), draft)).toEqual([]);
  const loose = changed.replace("kind: mount", "kind: hose").replace("label: Exhaust bracket", "label: Fuel hose");
  expect(rules(loose, draft)).toEqual(["no-drain exhaust-bracket"]);
});

test("a file that no narration is kept of is looked at alone, and what it says itself is no question", () => {
  const text = drafted("On the left side undo the fuel line. Undo the engine mount, two bolts.").yaml;
  expect(rules(text, {} as Draft)).toEqual(["no-drain fuel-line", "no-support engine-mount"]);
  expect(rules(text.replace("    kind: line\n", "    kind: line\n    catch: 0.2 L fuel\n"), {} as Draft)).toEqual([
    "no-support engine-mount",
  ]);
});
