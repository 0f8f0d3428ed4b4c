// What a file names already, read from its lines, so that it is known in a file with faults too.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readVehicle } from "../../vehicle/index.ts";
import { knownIn, wordsFor } from "./known.ts";

const TEXT = `format: unmoor/1
positions:
  left: { label: Left side, people: 2 }
parts:
  # the frame stays
  frame: { fixed: true }
  pump:
    label: "Pump, hydraulic"
    mass: 4 kg
connections:
  hose:
    joins: [pump, fra
    holds: { fluid: hydraulic oil, amount: 1 L }
    release:
      - { at: left, time: 3 min, tools: [spanner 19, "socket 8"], skill: fitter }
lifting:
  hoists:
    crane: { reach: [[1 m, 500 kg]] }
shop:
  tools:
    - drain pan 20 L
`;

test("ids with kind, label and line, also where the text is no YAML", () => {
  expect(knownIn([{ path: "a.yaml", text: TEXT }]).ids).toEqual([
    { id: "left", thing: "position", label: "Left side", file: "a.yaml", line: 3 },
    { id: "frame", thing: "part", file: "a.yaml", line: 6 },
    { id: "pump", thing: "part", label: "Pump, hydraulic", file: "a.yaml", line: 7 },
    { id: "hose", thing: "connection", file: "a.yaml", line: 11 },
    { id: "crane", thing: "hoist", file: "a.yaml", line: 18 },
  ]);
});

test("words that come again, by what they stand under", () => {
  const known = knownIn([{ path: "a.yaml", text: TEXT }]);
  expect(wordsFor(known, "tools")).toEqual(["spanner 19", "socket 8", "drain pan 20 L"]);
  expect(wordsFor(known, "skills")).toEqual(["fitter"]);
  expect(wordsFor(known, "drains")).toEqual(["hydraulic oil"]);
});

test.each(["plover-28", "marten-t1", "bench-pump"])("of %s it knows what the reader knows", (name) => {
  const path = `demo/${name}.vehicle.yaml`;
  const text = readFileSync(path, "utf8");
  const { vehicle } = readVehicle(path, () => text);
  const known = knownIn([{ path, text }]);
  const ids = (thing: string) => known.ids.filter((one) => one.thing === thing).map(({ id }) => id);
  expect(ids("connection")).toEqual(vehicle?.connections.map(({ id }) => id));
  expect(ids("part")).toEqual(vehicle?.parts.map(({ id }) => id));
  expect(ids("task")).toEqual(vehicle?.tasks.map(({ id }) => id));
  expect(ids("position")).toEqual(vehicle?.positions.map(({ id }) => id));
});
