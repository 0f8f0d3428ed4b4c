// Whatever the server or the ledger refuses, and whatever is wrong in a vehicle file, is said in both languages, with all that it names.
import { describe, expect, test } from "vitest";
import { PHRASES } from "../src/ledger/index.ts";
import { REFUSALS } from "../src/server/refusals.ts";
import { BROKEN, DUBIOUS, MAIN } from "../src/vehicle/fixture/corpus.ts";
import { readVehicle } from "../src/vehicle/index.ts";
import { faultInGerman } from "../src/web/words/de/faults.ts";
import { de } from "../src/web/words/de/index.ts";
import { phrases } from "../src/web/words/de/phrases.ts";
import { refusals } from "../src/web/words/de/refusals.ts";

type Say = (...named: readonly unknown[]) => string;

/** A sentence of names that no language has words for: as a list of one it is taken as a text, too. */
const said = (say: unknown): string => {
  const names = Array.from({ length: (say as Say).length }, (_, n) => [`§${n}`]);
  return String((say as Say)(...names));
};

/** Said from a table of its own, by what they name, in both languages or in one of them. */
const BY_TABLE: ReadonlySet<string> = new Set([
  "damage",
  "notAgreeing",
  "startSecret",
  "newIsStart",
  "startTooLate",
  "secretChanged",
  "triedFirst",
  "noAttached",
]);
/** Nothing but what somebody or another room says. */
const AS_SAID: ReadonlySet<string> = new Set(["asItSays", "drains", "readingFailed"]);
/** As the store says it, in English alone; other languages say of what kind it is. */
const BY_KIND: ReadonlySet<string> = new Set(
  "notKept taken keptClosed noPhoto noVoice storeFull storeReadOnly storeBusy storeGone storeUnfit lookForIt ownOne asPicture asSound keeperSees".split(
    " ",
  ),
);

describe.each([
  ["the server", REFUSALS, refusals],
  ["the ledger", PHRASES, phrases],
] as const)("of %s", (_, english, german) => {
  test.each(Object.keys(english))("%s", (id) => {
    const [own, other] = [(english as Record<string, unknown>)[id], (german as Record<string, unknown>)[id]];
    if (BY_TABLE.has(id)) {
      for (const secret of ["PIN", "password"] as const)
        if (id !== "damage" && id !== "noAttached")
          expect((other as Say)(secret)).not.toMatch(/undefined|password|^the /);
      return;
    }
    const [first, second] = [said(own), said(other)];
    expect(second).not.toMatch(/undefined|\[object/);
    if (!AS_SAID.has(id)) expect(second).not.toBe(first);
    if (BY_KIND.has(id)) return;
    for (const name of first.match(/§\d/g) ?? []) expect(second).toContain(name);
  });
});

test("a phrase that this page does not know yet is shown as it came", () => {
  expect(de.door.said("a newer refusal", ["unheardOf"] as never)).toBe("a newer refusal");
  expect(de.door.said("nobody is signed in", ["notSignedIn"])).toBe("niemand ist angemeldet");
});

test("a fault of an order", () => {
  const said = (fault: object) =>
    Object.values(de.order.faultSaid({ at: "", what: "", mend: "", ...fault })).join(": ");
  expect(said({ at: "jobs" })).toMatch(/^Der Auftrag verlangt nichts/);
  expect(said({ at: "take", value: "valve" })).toMatch(/^valve soll bleiben und herauskommen/);
  expect(said({ at: "jobs[0]", value: "shaft-seat", nearest: "shaft-seal" })).toBe(
    "Eine Arbeit shaft-seat gibt es in der Datei nicht: Am ähnlichsten: shaft-seal.",
  );
});

/** Values that are words of English, or limits that German does not repeat. */
const NOT_REPEATED: ReadonlySet<string> = new Set([
  "wanted",
  "found",
  "kind",
  "thing",
  "mass",
  "hand",
  "limit",
  "words",
]);

test.each([...BROKEN, ...DUBIOUS].map((one) => [one.rule, one] as const))(
  "a fault of a file: %s",
  (rule, { files }) => {
    const { faults, warnings } = readVehicle(MAIN, (path) => files[path] ?? { missing: "no such file" });
    const all = [...faults, ...warnings].filter((one) => one.rule === rule);
    expect(all.length).toBeGreaterThan(0);
    for (const fault of all) {
      const { what, mend } = faultInGerman(fault);
      expect(what).not.toBe(fault.what);
      expect(`${what} ${mend}`).not.toMatch(/„“|undefined|\[object| {2}/);
      for (const [name, value] of Object.entries(fault.values).filter(([one]) => !NOT_REPEATED.has(one)))
        if (typeof value === "string" && fault.what.includes(value)) expect(`${what} ${mend}`, name).toContain(value);
    }
  },
);
