import { expect, test } from "vitest";
import { MORNING, type Saying, TestDevice } from "../../test/run.ts";
import { foldJoint } from "./joint.ts";
import { JOINT_MOVES, JOINT_STATES, JOINT_TABLE, type JointMove, type JointState } from "./joint-table.ts";
import type { Body } from "./kinds.ts";

const AT = "hose";
const fold = (said: readonly Saying[], start: "tied" | "released" = "tied") => {
  const device = new TestDevice(1, "run-1");
  const entries = said.map(({ author, body }, n) => device.write(author, body, MORNING + n).entry);
  return { joint: foldJoint(AT, start, entries), entries };
};
const emil = (body: Body): Saying => ({ author: "emil", body });
const dora = (body: Body): Saying => ({ author: "dora", body });

const BODIES: Readonly<Record<JointMove, Body>> = {
  loosened: { kind: "loosened", at: AT },
  released: { kind: "released", at: AT },
  "found loose": { kind: "verified", at: AT, found: "loose" },
  "found made": { kind: "verified", at: AT, found: "made" },
  "in place": { kind: "in place", at: AT },
  snug: { kind: "snug", at: AT },
  torqued: { kind: "torqued", at: AT, torque: "40 N·m", tool: "torque wrench" },
  locked: { kind: "locked", at: AT },
  marked: { kind: "marked", at: AT },
  refitted: { kind: "refitted", at: AT },
};

/** How to get into each state. */
const ROADS: Readonly<Record<JointState, readonly JointMove[]>> = {
  tied: [],
  loosened: ["loosened"],
  released: ["released"],
  loose: ["released", "found loose"],
  "in place": ["released", "in place"],
  snug: ["released", "snug"],
  torqued: ["released", "torqued"],
  locked: ["released", "torqued", "locked"],
  marked: ["released", "torqued", "marked"],
  refitted: ["released", "refitted"],
  proved: ["released", "refitted", "found made"],
};

const said = (move: JointMove): Saying => (move.startsWith("found") ? dora : emil)(BODIES[move]);

test("the table is the fold: each of its cells, walked to by entries", () => {
  for (const state of JOINT_STATES)
    for (const move of JOINT_MOVES) {
      const before = fold(ROADS[state].map(said));
      expect(before.joint.state).toBe(state);
      expect(before.joint.contradictions).toEqual([]);
      const { joint } = fold([...ROADS[state].map(said), said(move)]);
      const cell = JOINT_TABLE[state][move];
      const rules = joint.contradictions.map(({ rule }) => rule);
      if (/^J\d$/.test(cell)) expect([joint.state, rules], `${state} × ${move}`).toEqual([state, [cell]]);
      else expect([joint.state, rules], `${state} × ${move}`).toEqual([cell, []]);
    }
});

test("no entry makes a joint loose but a release and the look of somebody who had no hand in it", () => {
  const loose = JOINT_STATES.flatMap((state) =>
    JOINT_MOVES.flatMap((move) => (JOINT_TABLE[state][move] === "loose" ? [`${state} × ${move}`] : [])),
  );
  expect(loose).toEqual(["released × found loose", "loose × found loose"]);
  const proved = JOINT_STATES.flatMap((state) =>
    JOINT_MOVES.flatMap((move) => (JOINT_TABLE[state][move] === "proved" ? [`${state} × ${move}`] : [])),
  );
  expect(proved).toEqual(["refitted × found made", "proved × found made"]);
});

test("[J1] verified loose with no release", () => {
  expect(fold([dora(BODIES["found loose"])]).joint.contradictions.map(({ rule }) => rule)).toEqual(["J1"]);
});

test("[J3] two people release the same hose: both entries are named, and it stays released", () => {
  const { joint, entries } = fold([emil(BODIES.released), dora(BODIES.released)]);
  expect(joint.state).toBe("released");
  expect(joint.contradictions).toEqual([
    { key: expect.stringMatching(/^J3-[0-9a-f]{8}$/), rule: "J3", about: AT, entries: entries.map(({ id }) => id) },
  ]);
});

test("[J8] who released it does not verify it, nor who loosened it first", () => {
  const { joint } = fold([emil(BODIES.released), emil(BODIES["found loose"])]);
  expect([joint.state, joint.contradictions[0]?.rule]).toEqual(["released", "J8"]);
  const both = fold([dora(BODIES.loosened), emil(BODIES.released), dora(BODIES["found loose"])]);
  expect([both.joint.state, both.joint.contradictions[0]?.rule]).toEqual(["released", "J8"]);
  const refit = fold([
    emil(BODIES.released),
    emil(BODIES.snug),
    dora(BODIES.torqued),
    emil(BODIES.refitted),
    dora(BODIES["found made"]),
  ]);
  expect([refit.joint.state, refit.joint.contradictions[0]?.rule]).toEqual(["refitted", "J8"]);
});

test("who released it may verify that somebody else has refitted it", () => {
  expect(fold([emil(BODIES.released), dora(BODIES.refitted), emil(BODIES["found made"])]).joint.state).toBe("proved");
});

test("found still made, it is tied again; the look is kept as a surprise, and no contradiction: it is released anew", () => {
  const { joint } = fold([emil(BODIES.released), dora(BODIES["found made"])]);
  expect([joint.state, joint.contradictions]).toEqual(["tied", []]);
  expect(joint.surprises).toMatchObject([{ author: "dora", found: "made", of: "emil" }]);
  expect(
    fold([emil(BODIES.released), dora(BODIES["found made"]), emil(BODIES.released), dora(BODIES["found loose"])]).joint
      .state,
  ).toBe("loose");
});

test("taken apart again on the way back, what was done to make it is gone", () => {
  const { joint } = fold([emil(BODIES.released), emil(BODIES.torqued), emil(BODIES.locked), dora(BODIES.released)]);
  expect([joint.state, joint.torques, joint.locked, joint.closed]).toEqual(["released", [], false, undefined]);
  expect([...joint.hands]).toEqual(["dora"]);
});

const second = (torque: string): Saying => dora({ kind: "torque value", at: AT, torque, tool: "torque wrench" });

test("[J9] one says 40, the other 48: two readings further apart than two tools of 4 % may be (ISO 6789-1)", () => {
  const { joint, entries } = fold([emil(BODIES.released), emil(BODIES.torqued), second("48 N·m")]);
  expect(joint.contradictions).toMatchObject([{ rule: "J9", entries: [entries[1]!.id, entries[2]!.id] }]);
  expect(fold([emil(BODIES.released), emil(BODIES.torqued), second("43 N·m")]).joint.contradictions).toEqual([]);
  // 29.5 lbf·ft are 40.0 N·m: the unit is the reader's own affair.
  expect(fold([emil(BODIES.released), emil(BODIES.torqued), second("29.5 lbf·ft")]).joint.contradictions).toEqual([]);
});

test("released before the run began, it is released with nobody's hand in it", () => {
  const { joint } = fold([emil(BODIES["found loose"])], "released");
  expect([joint.state, joint.opened]).toEqual(["loose", true]);
});
