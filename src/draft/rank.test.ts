// The questions of a draft stand in the order in which every answer, searched by itself, moves the plan; each says so, and an answer takes it away.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { byForce } from "../../test/by-force.ts";
import { readVehicle } from "../vehicle/index.ts";
import { answerQuestion } from "./answer.ts";
import { draftVehicle } from "./draft.ts";
import { questionsIn } from "./question.ts";
import { askedOf, type Ranked, sayQuestion, sayStake } from "./rank.ts";
import { doubtOf } from "./supposed.ts";

const folder = new URL("../../demo/narrations/", import.meta.url);
const draftOf = (file: string, text = readFileSync(new URL(file, folder), "utf8")) => {
  const draft = draftVehicle([{ file, text }]);
  if (!("yaml" in draft)) throw new Error(JSON.stringify(draft));
  return draft.yaml;
};
const read = (text: string) => {
  const { vehicle, gaps, faults } = readVehicle("d", () => text);
  if (vehicle === undefined) throw new Error(JSON.stringify(faults));
  return { vehicle, gaps };
};
const asked = (text: string) => {
  const { vehicle, gaps } = read(text);
  return askedOf(text, vehicle, gaps, "d", {});
};
const answer = (text: string, question: Ranked | undefined, typed: string): string => {
  if (question === undefined) throw new Error("no question");
  const answered = answerQuestion(text, question, typed, read(text).gaps);
  if ("what" in answered) throw new Error(`${answered.what}: ${answered.mend}`);
  return answered.text;
};

test.each(["hauler.vtt", "baler.txt", "bus-motor.txt", "drill-pack.srt"])(
  "the order of %s is that of brute force",
  (file) => {
    const text = draftOf(file);
    const { vehicle } = read(text);
    const questions = asked(text);
    expect(questions.length).toBeGreaterThan(10);
    const forced = questions.map((question) => byForce(vehicle, doubtOf(question, vehicle, true)));
    questions.forEach(({ name, stake }, n) => {
      expect(stake?.to, name).toBeCloseTo(forced[n]?.swing ?? -1, 6);
      expect(stake?.from, name).toBeCloseTo(forced[n]?.swing ?? -1, 6);
      expect(stake?.decidesPlan, name).toBe(forced[n]?.decidesPlan);
    });
    // What decides whether there is a plan, then what a weight cannot be checked without, then by minutes, then what moves nothing.
    const places = questions.map(({ stake }, n) =>
      forced[n]?.decidesPlan === true
        ? 1e6
        : stake?.unchecked === "support" || stake?.unchecked === "lift"
          ? 1e5
          : Math.round(10 * (forced[n]?.swing ?? 0)),
    );
    expect(places).toEqual(places.toSorted((a, b) => b - a));
  },
);

const TEXT = `On the left side, unplug the starter cable. Take off the starter motor, two bolts.
Then remove the belt guard, four screws. Disconnect the fuel hose. Undo the engine mount, the bolts. That's everything, it can come out.`;

test("what was taken for granted is answered by a word, and is no question any more", () => {
  let text = draftOf("a", TEXT);
  const names = () => questionsIn(text, read(text).vehicle, read(text).gaps, "d").map(({ name }) => name);
  const find = (name: string) =>
    questionsIn(text, read(text).vehicle, read(text).gaps, "d").find((one) => one.name === name);
  expect(names()).toContain("starter-cable joins");
  text = answer(text, find("starter-cable joins"), "starter-motor-part + vehicle");
  expect(text).toContain("joins: [starter-motor-part, vehicle]\n");
  text = answer(text, find("starter-cable minutes"), "2,5");
  expect(text).toContain("release: { at: left, time: 2.5 min }\n");
  const before = find("fuel-hose before belt-guard");
  text = answer(text, before, "no");
  expect(text).not.toContain(
    "# needs belt-guard: told after belt guard at the same place, so it may lie under it\n    release: { at: left, time: 2 min, needs",
  );
  expect(names()).not.toContain("starter-cable joins");
  expect(names()).not.toContain("starter-cable minutes");
  expect(names()).not.toContain("fuel-hose before belt-guard");
  const wrong = answerQuestion(text, find("engine-mount minutes") as Ranked, "soon", read(text).gaps);
  expect("text" in wrong && readVehicle("d", () => wrong.text).faults).not.toEqual([]);
});

test("each question says what it can change", () => {
  const text = draftOf("hauler.vtt");
  const says = asked(text).map((question) => `${sayQuestion(question)} ${sayStake(question)}.`);
  expect(says[0]).toBe(
    "Engine: mass? its mass, with its doubt: 262 kg ± 5 % without it what takes its weight cannot be checked.",
  );
  expect(says).toContain(
    'Heater hoses: must it wait for "Drain the coolant"? it holds coolant. changes the plan by up to 10 person-minutes.',
  );
  expect(says).toContain(
    "Exhaust flange: torque? the tightening torque: 48 N·m, 35 lbf·ft; with its tolerance: 48 N·m ± 4 N·m, 48 N·m ± 5 %, 45..50 N·m without it nothing says how tight it is made again.",
  );
});
