import { expect, test } from "vitest";
import { type Form, readCall, usage } from "./call.ts";

const FORM: Form = {
  name: "why",
  operands: [
    { name: "FILE", text: "the vehicle file" },
    { name: "CONNECTION", text: "a connection" },
  ],
  flags: [
    { name: "job", value: "ID", many: true, text: "" },
    { name: "hoist", value: "ID", text: "" },
    { name: "within", value: "SECONDS", number: true, text: "" },
  ],
};

function faults(...words: string[]): string[] {
  const read = readCall(FORM, words);
  if ("flags" in read) throw new Error(`no fault in ${words.join(" ")}`);
  return read.map(({ what, mend }) => `${what}. ${mend}`);
}

test("flags may stand anywhere, be repeated where they take many, and part their values by commas", () => {
  const read = readCall(FORM, ["--job", "a", "f.yaml", "--job=b,c", "hose", "--json"]);
  expect(read).toEqual({
    operands: ["f.yaml", "hose"],
    flags: new Map([
      ["job", ["a", "b", "c"]],
      ["json", [""]],
    ]),
  });
});

test.each([
  ["a misspelt flag", ["f", "c", "--jbo", "x"], /why has no flag --jbo\. Nearest: --job\./],
  [
    "a flag of nothing like it",
    ["f", "c", "--propeller"],
    /no flag --propeller\. There are: --job, --hoist, --within, --json, --help\./,
  ],
  ["a missing value at the end", ["f", "c", "--job"], /--job has no ID\. Write --job ID\./],
  ["a missing value before the next flag", ["f", "c", "--job", "--json"], /--job has no ID/],
  ["an empty value", ["f", "c", "--job="], /--job has no ID/],
  ["a value where none is taken", ["f", "c", "--json=yes"], /--json takes no value/],
  ["one flag twice", ["f", "c", "--hoist", "a", "--hoist", "b"], /--hoist is given more than once\. Give one ID\./],
  ["no number", ["f", "c", "--within", "soon"], /--within soon is no number above 0/],
  ["not above 0", ["f", "c", "--within", "-1"], /--within/],
  ["too few words", ["f"], /why needs CONNECTION, a connection\. Write unmoor why FILE CONNECTION/],
  [
    "a job that lost its flag",
    ["f", "c", "b", "--job", "a"],
    /"b" is one word too many\. A second ID is given with a second --job\./,
  ],
])("%s is told with its mend", (_, words, message) => {
  expect(faults(...words).join("\n")).toMatch(message);
});

test("every fault is told at once", () => {
  // Both words that it needs are missing too: "x" is the value of what was meant by --jbo.
  expect(faults("--jbo", "x", "--within", "soon", "--hoist")).toHaveLength(5);
});

test("one misspelt flag is one fault, whether its value follows or not", () => {
  expect(faults("f", "c", "--jbo", "x")).toHaveLength(1);
  expect(faults("f", "c", "--jbo=x")).toHaveLength(1);
  expect(faults("--jsn", "f", "c")).toHaveLength(1);
});

test("help is given however wrong the rest is", () => {
  expect(readCall(FORM, ["--help", "--jbo"])).toMatchObject({
    flags: new Map([
      ["help", [""]],
      ["jbo", [""]],
    ]),
  });
});

test("the usage names everything", () => {
  expect(usage(FORM)).toBe("unmoor why FILE CONNECTION [--job ID…] [--hoist ID] [--within SECONDS]");
});
