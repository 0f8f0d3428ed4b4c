// What is at stake with each answer, settled with few searches, is what comes of searching the vehicle of every answer by itself.
import { expect, test } from "vitest";
import { byForce } from "../../test/by-force.ts";
import { randomVehicle } from "../../test/random-vehicle.ts";
import { connection, frame, job, part, task, vehicle } from "../../test/small-vehicle.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { type Doubt, stakesOf } from "./stake.ts";

const doubtsOf = (file: Vehicle): readonly Doubt[] => [
  ...file.connections.flatMap(({ id, ways, joins }): Doubt[] => [
    ...ways.map((way) => ({
      of: id,
      answers: [0.4, 2.5].map((times) => ({ step: way.id, minutes: way.time * times })),
    })),
    ...ways.flatMap((way) =>
      way.needs.flatMap((need) => ("id" in need ? [{ of: id, answers: [{ step: way.id, without: need.id }] }] : [])),
    ),
    {
      of: id,
      answers: [
        {
          vehicle: {
            ...file,
            connections: file.connections.map((one) =>
              one.id === id ? { ...one, joins: [joins[0] ?? "", joins[0] === "p0" ? "p1" : "p0"] } : one,
            ),
          },
        },
      ],
    },
  ]),
  ...file.tasks.map(({ id, time }) => ({
    of: id,
    answers: [0.4, 2.5].map((times) => ({ step: id, minutes: time * times })),
  })),
  ...file.parts.flatMap(({ id, fixed }) =>
    fixed ? [] : [{ of: id, answers: [5, 26, 200].map((mass) => ({ part: id, mass })) }],
  ),
];

/** Half of them without anything that rests, where masses can only stand in the way. */
const fileOf = (seed: number): Vehicle => {
  const whole = randomVehicle(seed);
  const file = { ...whole, jobs: whole.jobs.slice(0, 1) };
  return seed % 2 === 0 ? file : { ...file, connections: file.connections.map((one) => ({ ...one, rests: false })) };
};

test("on random vehicles every stake is that of all answers searched one by one", () => {
  let moving = 0;
  let deciding = 0;
  let searches = 0;
  let answers = 0;
  for (let seed = 0; seed < 8; seed++) {
    const file = fileOf(seed);
    const doubts = doubtsOf(file);
    const found = stakesOf(file, doubts, {});
    searches += found.searches;
    doubts.forEach((doubt, n) => {
      const { swing, decidesPlan } = byForce(file, doubt);
      const says = `seed ${seed}, ${JSON.stringify(doubt).slice(0, 80)}`;
      expect(found.stakes[n]?.from, says).toBeCloseTo(swing, 6);
      expect(found.stakes[n]?.to, says).toBeCloseTo(swing, 6);
      expect(found.stakes[n]?.decidesPlan, says).toBe(decidesPlan);
      answers += doubt.answers.length * file.jobs.length;
      if (swing > 0) moving++;
      if (decidesPlan) deciding++;
    });
  }
  expect(moving).toBeGreaterThan(20);
  expect(deciding).toBeGreaterThan(0);
  // Most are settled by a proof and not by a search.
  expect(searches).toBeLessThan(answers * 0.6);
});

// Either of two hoses lets the cover off: 6 and 10 minutes to release and refit at 3 and 5 each; the bolts of 4 minutes are undone whichever it is.
const choice = () =>
  vehicle({
    parts: [frame(), part("cover", 1)],
    connections: [
      connection("short", ["frame", "cover"], "hose", [{ time: 3 }]),
      connection("bolts", ["frame", "cover"], "clip", [{ time: 4 }]),
      connection("near", ["frame", "frame-2"], "hose", [{ time: 3 }]),
      connection("far", ["frame", "frame-2"], "hose", [{ time: 5 }]),
    ],
    tasks: [task("look", { time: 1, needs: [{ any: [{ id: "near" }, { id: "far" }] }] })],
    jobs: [job("off", { needs: [{ out: "cover" }, "look"] })],
  });

test("what every plan makes moves it by just its own minutes; what another way replaces, by no more than that spares", () => {
  const file = { ...choice(), parts: [frame(), frame("frame-2"), part("cover", 1)] };
  const { stakes } = stakesOf(
    file,
    [
      { of: "bolts", answers: [2, 9].map((time) => ({ step: "bolts/1", minutes: time })) },
      { of: "near", answers: [2, 9].map((time) => ({ step: "near/1", minutes: time })) },
      { of: "far", answers: [4, 9].map((time) => ({ step: "far/1", minutes: time })) },
    ],
    {},
  );
  // Twice 9 − 2; from twice 2 up to the other hose's twice 5; the far one at 4 is still no match for 3.
  expect(stakes.map(({ from, to, decidesStep }) => [from, to, decidesStep])).toEqual([
    [14, 14, false],
    [6, 6, true],
    [0, 0, false],
  ]);
});

test("without time for a search what every plan makes is known all the same, and the rest between its bounds", () => {
  const file = { ...choice(), parts: [frame(), frame("frame-2"), part("cover", 1)] };
  const { stakes, searches } = stakesOf(
    file,
    [
      { of: "bolts", answers: [{ step: "bolts/1", minutes: 9 }] },
      { of: "near", answers: [{ step: "near/1", minutes: 9 }] },
    ],
    { milliseconds: 0, now: () => 0 },
  );
  expect(searches).toBe(0);
  expect(stakes[0]).toMatchObject({ from: 10, to: 10 });
  expect(stakes[1]).toMatchObject({ from: 0, to: Number.POSITIVE_INFINITY });
});
