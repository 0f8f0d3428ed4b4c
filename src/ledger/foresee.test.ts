// The foresight of an entry: it says what the entry would contradict, and leaves the ledger as it was.
import { expect, test } from "vitest";
import { jobOf, pictureOf, playJob, writeJob } from "../../test/run.ts";
import { foresee } from "./foresee.ts";
import { Ledger } from "./ledger.ts";

const { brief } = jobOf("bench-pump", "shaft-seal");

test("what would be contradicted is said, and nothing is changed by asking", () => {
  const ledger = new Ledger(brief);
  const rules = (...asked: Parameters<typeof foresee> extends [unknown, ...infer Rest] ? Rest : never) =>
    foresee(ledger, ...asked).map(({ rule, about }) => `${rule} ${about}`);
  expect(rules("emil", { kind: "refitted", at: "coupling" })).toEqual(["J2 coupling"]);
  expect(rules("emil", { kind: "brought back", part: "guard" })).toEqual(["P1 guard"]);
  expect(rules("emil", { kind: "undone", task: "sling" })).toEqual(["T1 sling"]);
  expect(rules("emil", { kind: "released", at: "guard-screws" })).toEqual([]);
  expect(pictureOf(ledger)).toBe(pictureOf(new Ledger(brief)));
});

test("of a job done as planned no entry is foreseen to contradict anything", () => {
  const ledger = new Ledger(brief);
  for (const { entry } of writeJob(playJob(brief))) {
    expect(foresee(ledger, entry.author, entry.body), JSON.stringify(entry.body)).toEqual([]);
    const asked = pictureOf(ledger);
    ledger.add(entry);
    expect(asked).not.toBe("");
  }
  expect(pictureOf(ledger)).toBe(
    pictureOf(
      new Ledger(
        brief,
        writeJob(playJob(brief)).map(({ entry }) => entry),
      ),
    ),
  );
});
