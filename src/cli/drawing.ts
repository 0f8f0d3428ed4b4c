// Owns the drawing of the cut in text: who is tied to what before and after, and what hangs together at the end.

import type { Connection, Vehicle } from "../vehicle/index.ts";
import { fill, type Ink } from "./terminal.ts";

/** What the drawing is of: ids of the vehicle file. */
export interface Cut {
  /** Connections released before the plan began. */
  readonly already: readonly string[];
  readonly released: readonly string[];
  readonly lifted: readonly string[];
  readonly setAside: readonly string[];
  /** Parts hung aside. */
  readonly hung: readonly string[];
}

/** The ties between two parts (a tie of three parts has two on its far side), as far as they were released. */
interface Pair {
  readonly near: string;
  readonly far: string;
  readonly up: boolean;
  readonly released: Connection[];
  /** Ties between the two that stay. */
  left: number;
}

/** Draws the cut in lines of at most `width` columns. */
export function drawCut(vehicle: Vehicle, cut: Cut, ink: Ink, width: number): string {
  const gone = new Set(cut.already);
  const made = vehicle.connections.filter(({ id }) => !gone.has(id));
  const pairs = pairUp(vehicle, made, cut);
  const up = pairs.filter((pair) => pair.up);
  const others = pairs.filter((pair) => !pair.up);
  const legend = ink.faint("(═ bears weight, ─ does not, ╳ parted; ties before → after)");
  const titles =
    up.length > 0
      ? ["The cut: what goes up, and what it was tied to", "Parted as well, to get there or for the job"]
      : ["", "What is parted"];
  const sections = [up, others].map((some, i) => {
    const title = ink.strong(titles[i] ?? "");
    return some.length === 0
      ? []
      : [i === 0 || up.length === 0 ? `${title} ${legend}` : title, ...drawPairs(some, ink, width)];
  });
  return [...sections, [ink.strong("At the end"), ...drawBodies(vehicle, made, cut, width)]]
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n");
}

/** What was released, by the parts it joined; the part that goes up, or that is less of the vehicle, is the near one. */
function pairUp(vehicle: Vehicle, made: readonly Connection[], cut: Cut): Pair[] {
  const label = new Map(vehicle.parts.map((part) => [part.id, part.label]));
  const rank = new Map(
    vehicle.parts.map(({ id, fixed }) => [
      id,
      cut.lifted.includes(id) ? 0 : fixed ? 3 : cut.setAside.includes(id) ? 1 : 2,
    ]),
  );
  const released = new Set(cut.released);
  const pairs = new Map<string, Pair>();
  for (const connection of made) {
    const ends = [...connection.joins].sort((a, b) => (rank.get(a) ?? 0) - (rank.get(b) ?? 0) || a.localeCompare(b));
    const [near = "", ...rest] = ends;
    const key = ends.join(" ");
    const pair = pairs.get(key) ?? {
      near: label.get(near) ?? near,
      far: rest.map((id) => label.get(id) ?? id).join(" + "),
      up: ends.some((id) => cut.lifted.includes(id)) && !ends.every((id) => cut.lifted.includes(id)),
      released: [],
      left: 0,
    };
    if (released.has(connection.id)) pair.released.push(connection);
    else pair.left++;
    pairs.set(key, pair);
  }
  return [...pairs.values()]
    .filter((pair) => pair.released.length > 0)
    .sort((a, b) => a.near.localeCompare(b.near) || a.far.localeCompare(b.far));
}

function drawPairs(pairs: readonly Pair[], ink: Ink, width: number): string[] {
  const wide = Math.max(...pairs.map(({ near }) => near.length));
  const indent = " ".repeat(wide + 9);
  return pairs.flatMap(({ near, far, released, left }) => {
    const stroke = released.some(({ carrying }) => carrying) ? "═" : "─";
    const head = `  ${near.padStart(wide)} ${stroke.repeat(2)}${left === 0 ? ink.bad("╳") : stroke}${stroke.repeat(2)} `;
    const count = `(${released.length + left} → ${left}):`;
    const ids = released.map(({ id }, i) => (i < released.length - 1 ? `${id},` : id));
    const [first = "", ...rest] = fill([...`${far} ${count}`.split(" "), ...ids], width - indent.length);
    return [head + first, ...rest.map((line) => indent + line)];
  });
}

/** What hangs together when the plan out is done; one body is parted from the next by a semicolon. */
function drawBodies(vehicle: Vehicle, made: readonly Connection[], cut: Cut, width: number): string[] {
  const released = new Set(cut.released);
  const label = new Map(vehicle.parts.map((part) => [part.id, part.label]));
  const fixed = new Set(vehicle.parts.flatMap((part) => (part.fixed ? [part.id] : [])));
  const rows = new Map<string, string[][]>(
    ["went up", "set aside", "hung aside", "on the vehicle", "apart"].map((where) => [where, []]),
  );
  for (const body of findBodies(
    vehicle,
    made.filter(({ id }) => !released.has(id)),
  )) {
    const hung = body.filter((id) => cut.hung.includes(id));
    const rest = body.filter((id) => !cut.hung.includes(id));
    if (hung.length > 0) rows.get("hung aside")?.push(hung);
    if (rest.length === 0) continue;
    const where = rest.some((id) => cut.lifted.includes(id))
      ? "went up"
      : rest.some((id) => fixed.has(id)) || hung.length > 0
        ? "on the vehicle"
        : rest.every((id) => cut.setAside.includes(id))
          ? "set aside"
          : "apart";
    rows.get(where)?.push(rest);
  }
  return [...rows].flatMap(([where, bodies]) => {
    if (bodies.length === 0) return [];
    const words = bodies.flatMap((body, b) =>
      body.map((id, i) => `${label.get(id) ?? id}${i < body.length - 1 ? "," : b < bodies.length - 1 ? ";" : ""}`),
    );
    const head = `  ${where.padEnd(16)}`;
    return fill(words, width - head.length).map((line, i) => (i === 0 ? head : " ".repeat(head.length)) + line);
  });
}

/** The sets of parts that these connections join, in the order of the file. */
function findBodies(vehicle: Vehicle, made: readonly Connection[]): string[][] {
  const body = new Map(vehicle.parts.map(({ id }) => [id, new Set([id])]));
  for (const { joins } of made) {
    const [first, ...others] = joins.flatMap((id) => body.get(id) ?? []);
    for (const other of others) {
      if (first === undefined || other === first) continue;
      for (const part of other) {
        first.add(part);
        body.set(part, first);
      }
    }
  }
  const place = new Map(vehicle.parts.map(({ id }, index) => [id, index]));
  return [...new Set(body.values())].map((set) => [...set].sort((a, b) => (place.get(a) ?? 0) - (place.get(b) ?? 0)));
}
