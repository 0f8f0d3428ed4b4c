// What the overview shows of a vehicle, on a scene small enough to see at a glance.
import { expect, test } from "vitest";
import { readVehicle } from "../../vehicle/index.ts";
import { byPart, byPosition, labelsOf, sayNeed } from "./arranged.ts";

const TEXT = `
format: unmoor/1
vehicle: { name: Rig }
positions: { side: { label: At the side }, pit: {} }
parts: { frame: { fixed: true }, pump: { mass: 40 kg }, guard: { mass: 2 kg } }
connections:
  bolts: { joins: [pump, frame], kind: bolted joint, release: [{ at: side, time: 1 min }, { at: pit, time: 2 min }] }
  clip: { joins: [guard, frame], kind: clip, release: { time: 1 min } }
  weld: { joins: [guard, pump], kind: bracket, release: [] }
jobs: { renew: { needs: [any: [bolts, apart: [pump, guard]], out: pump] } }
`;
const { vehicle, faults } = readVehicle("rig.vehicle.yaml", () => TEXT);
const kindOf = ({ kind }: { readonly kind: string }) => kind;
if (vehicle === undefined) throw new Error(faults.map(({ what }) => what).join("; "));

test("each part has its ties, and what stays comes last", () => {
  expect(byPart(vehicle, "", kindOf).map(({ part, ties }) => [part.id, ties.map(({ id }) => id)])).toEqual([
    ["pump", ["bolts", "weld"]],
    ["guard", ["clip", "weld"]],
    ["frame", ["bolts", "clip"]],
  ]);
});

test("a part that is searched shows all its ties, another only those that are searched", () => {
  expect(byPart(vehicle, "GUARD", kindOf).map(({ part, ties }) => [part.id, ties.length])).toEqual([["guard", 2]]);
  expect(byPart(vehicle, "bolted", kindOf).map(({ part, ties }) => [part.id, ties.length])).toEqual([
    ["pump", 1],
    ["frame", 1],
  ]);
});

test("a tie stands at every position that one of its ways is done at; what is never released or anywhere comes last", () => {
  expect(byPosition(vehicle, "", kindOf).map(({ position, ties }) => [position?.id, ties.map(({ id }) => id)])).toEqual(
    [
      ["side", ["bolts"]],
      ["pit", ["bolts"]],
      [undefined, ["clip", "weld"]],
    ],
  );
});

test("a need is told with the labels of what it names", () => {
  const labels = labelsOf(vehicle);
  expect(vehicle.jobs[0]?.needs.map((need) => sayNeed(need, (id) => labels.get(id) ?? id))).toEqual([
    "(Bolts | Pump ↔ Guard)",
    "Pump",
  ]);
});
