// docs/ledger.md says every kind, cell, rule and gate as the code has them.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { GATE_RULES } from "./gate.ts";
import { JOINT_MOVES, JOINT_STATES, JOINT_TABLE } from "./joint-table.ts";
import { KINDS } from "./kinds.ts";
import { RULES } from "./rules.ts";
import { TASK_KINDS, TASK_STATES, TASK_TABLE } from "./task.ts";

const page = readFileSync(new URL("../../docs/ledger.md", import.meta.url), "utf8");
const rows = new Set(page.split("\n"));
const missing = (lines: readonly string[]) => lines.filter((line) => !rows.has(line));

test("every kind with what it says and its fields", () => {
  const lines = Object.entries(KINDS).map(([kind, { says, fields }]) => {
    const list = Object.entries(fields).map(([name, sort]) => `\`${name}\`${sort.endsWith("?") ? "?" : ""}`);
    return `| \`${kind}\` | ${says} | ${list.join(", ")} |`;
  });
  expect(missing(lines)).toEqual([]);
});

test("every cell of the tables", () => {
  const joints = JOINT_STATES.map(
    (state) => `| **${state}** | ${JOINT_MOVES.map((move) => JOINT_TABLE[state][move]).join(" | ")} |`,
  );
  const tasks = TASK_STATES.map(
    (state) => `| **${state}** | ${TASK_KINDS.map((move) => TASK_TABLE[state][move]).join(" | ")} |`,
  );
  expect(missing([...joints, ...tasks])).toEqual([]);
});

test("no two rules share an id: of contradictions, gates, an entry's text and a run's proof", () => {
  const others = ["fault", "verify"].flatMap((name) =>
    [...readFileSync(new URL(`./${name}.ts`, import.meta.url), "utf8").matchAll(/^ {2}\| "(\w+)"/gm)].map(
      ([, id]) => id,
    ),
  );
  expect(others).toContain("E1");
  expect(others).toContain("V9");
  const all = [...Object.keys(RULES), ...Object.keys(GATE_RULES), ...others];
  expect(all.filter((id, n) => all.indexOf(id) !== n)).toEqual([]);
});

test("every rule", () => {
  const lines = [...Object.entries(RULES), ...Object.entries(GATE_RULES)].map(
    ([rule, says]) => `| ${rule} | ${says} |`,
  );
  expect(missing(lines)).toEqual([]);
});
