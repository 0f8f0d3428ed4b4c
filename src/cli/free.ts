// Owns the command `free`: whether parts are free with these connections released, and what still ties them by name and position.

import { type Freedom, ties } from "../release/index.ts";
import type { Connection, Vehicle } from "../vehicle/index.ts";
import type { Call } from "./call.ts";
import type { FreeDocument } from "./documents.ts";
import { EXIT, type Exit } from "./exit.ts";
import { takeVehicle } from "./files.ts";
import type { Terminal } from "./terminal.ts";
import { mendWord } from "./words.ts";

interface Asked {
  /** What is asked about: the label of a lift, or of the parts. */
  readonly what: string;
  readonly from: readonly string[];
}

export async function runFree({ operands, flags }: Call, terminal: Terminal): Promise<Exit> {
  const path = operands[0] ?? "";
  const json = flags.has("json");
  const taken = await takeVehicle(path, terminal, json);
  if (typeof taken === "number") return taken;
  const { vehicle } = taken;
  const released = flags.get("released") ?? [];
  const hung = flags.get("hung") ?? [];
  const take = flags.get("take") ?? [];
  const wrong = [
    ...unknown("connection", released, vehicle.connections),
    ...unknown("part", take, vehicle.parts),
    ...unknown(
      "hang",
      hung,
      vehicle.parts.flatMap(({ hang }) => hang),
    ),
  ];
  const asked = askedOf(vehicle, take);
  if (asked.length === 0) wrong.push(`${path} has no lift. Name the parts asked about with --take PART.`);
  if (wrong.length > 0) {
    for (const text of wrong) terminal.warn(`unmoor: ${text}`);
    return EXIT.call;
  }
  const straps = vehicle.parts.flatMap(({ id, hang }) =>
    hang.filter((one) => hung.includes(one.id)).map((one) => ({ id: one.id, joins: [id, one.to] })),
  );
  const answers = asked.map(({ what, from }) => ({ what, from, freedom: ties(vehicle, released, from, straps) }));
  const free = answers.every(({ freedom }) => freedom.free);
  if (json) {
    const document: FreeDocument = {
      format: "unmoor/free/1",
      file: path,
      free,
      released,
      groups: answers.map(({ from, freedom }) => describeFreedom(vehicle, from, freedom)),
    };
    terminal.say(JSON.stringify(document, undefined, 2));
  } else for (const { what, freedom } of answers) terminal.say(sayFreedom(vehicle, what, freedom, terminal));
  return free ? EXIT.found : EXIT.not;
}

function unknown(kind: string, given: readonly string[], known: readonly { readonly id: string }[]): string[] {
  const ids = known.map(({ id }) => id);
  return given.filter((id) => !ids.includes(id)).map((id) => `there is no ${kind} called ${id}. ${mendWord(id, ids)}`);
}

/** The parts of --take together; without it what each lift of the file takes hold of. */
function askedOf(vehicle: Vehicle, take: readonly string[]): Asked[] {
  if (take.length > 0) return [{ what: take.map((id) => labelOf(vehicle, id)).join(" + "), from: take }];
  return vehicle.tasks
    .filter(({ lifts }) => lifts.length > 0)
    .map(({ label, lifts }) => ({ what: label, from: lifts }));
}

function describeFreedom(vehicle: Vehicle, from: readonly string[], freedom: Freedom): FreeDocument["groups"][number] {
  return {
    from,
    free: freedom.free,
    group: freedom.group,
    mass: massOf(vehicle, freedom.group),
    chain: freedom.chain.map((id) => ({ id, label: labelOf(vehicle, id) })),
    ties: freedom.ties.map(({ id, parts, fixed }) => {
      const connection = vehicle.connections.find((one) => one.id === id);
      return {
        id,
        label: labelOf(vehicle, id),
        parts,
        fixed,
        positions: connection ? positionsOf(connection) : [],
      };
    }),
  };
}

/** The freedom of one group as text. Never that a lift is safe: only what the search found on these ties. */
export function sayFreedom(vehicle: Vehicle, what: string, freedom: Freedom, { ink }: Terminal): string {
  const group = freedom.group.map((id) => labelOf(vehicle, id)).join(", ");
  if (freedom.free) {
    const mass = massOf(vehicle, freedom.group);
    return `${ink.good("Free")}: ${what}. From ${group} (${mass.toFixed(0)} kg by the file) a search over every unreleased connection reaches nothing fixed.`;
  }
  const chain = freedom.chain.map((id) => {
    const connection = vehicle.connections.find((one) => one.id === id);
    if (connection === undefined) return `  ${ink.strong(labelOf(vehicle, id))}`;
    return `    │ ${connection.label} (${id}), ${connection.kind}${placed(vehicle, connection)}`;
  });
  const others = freedom.ties.filter(({ id }) => !freedom.chain.includes(id));
  return [
    `${ink.bad("Still tied")}: ${what}. The shortest chain to something fixed:`,
    ...chain,
    ...(others.length > 0 ? [`  and ${others.length} more that end on something fixed:`] : []),
    ...others.map(({ id }) => {
      const connection = vehicle.connections.find((one) => one.id === id);
      return `    ${labelOf(vehicle, id)} (${id})${connection ? placed(vehicle, connection) : ""}`;
    }),
  ].join("\n");
}

function placed(vehicle: Vehicle, connection: Connection): string {
  const positions = positionsOf(connection).map((id) => vehicle.positions.find((one) => one.id === id)?.label ?? id);
  const point = connection.at ? ` [${connection.at.map((one) => one.toFixed(2)).join(", ")}] m` : "";
  return `${positions.length > 0 ? `; ${positions.join(" or ")}` : ""}${point}`;
}

function positionsOf({ ways }: Connection): string[] {
  return [...new Set(ways.flatMap(({ at }) => at ?? []))];
}

function labelOf(vehicle: Vehicle, id: string): string {
  return [...vehicle.parts, ...vehicle.connections].find((one) => one.id === id)?.label ?? id;
}

/** Kilograms, nominal. */
function massOf(vehicle: Vehicle, ids: readonly string[]): number {
  return vehicle.parts.filter(({ id }) => ids.includes(id)).reduce((sum, { mass }) => sum + (mass?.nominal ?? 0), 0);
}
