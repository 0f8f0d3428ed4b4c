// Owns the drawing of the cut in text: which parts hang together before and after, and each tie that was cut between them.

import type { Connection, Vehicle } from "../vehicle/index.ts";
import type { Ink } from "./terminal.ts";

/** What the drawing is of: ids of the vehicle file. */
export interface Cut {
  /** Connections released before the plan began. */
  readonly already: readonly string[];
  readonly released: readonly string[];
  readonly lifted: readonly string[];
  readonly setAside: readonly string[];
  readonly hung: readonly string[];
}

interface Body {
  readonly parts: readonly string[];
  readonly where: string;
}

/** Draws the cut in lines of at most `width` columns. */
export function drawCut(vehicle: Vehicle, cut: Cut, ink: Ink, width: number): string {
  const gone = new Set(cut.already);
  const made = vehicle.connections.filter(({ id }) => !gone.has(id));
  const now = new Set(cut.released);
  const left = made.filter(({ id }) => !now.has(id));
  const after = findBodies(vehicle, left, cut);
  return [
    ink.strong("Who hangs together"),
    ...row("before", listBodies(vehicle, made, findBodies(vehicle, made)), width),
    ...row("after", listBodies(vehicle, left, after), width),
    "",
    ...drawTies(
      vehicle,
      made.filter(({ id }) => now.has(id)),
      after,
      ink,
    ),
  ].join("\n");
}

/** The sets of parts that unreleased connections join, the vehicle itself last. */
function findBodies(vehicle: Vehicle, made: readonly Connection[], cut?: Cut): Body[] {
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
  const fixed = new Set(vehicle.parts.flatMap((part) => (part.fixed ? [part.id] : [])));
  const place = (parts: readonly string[]) => {
    if (cut && parts.some((id) => cut.lifted.includes(id))) return "on the hoist";
    if (parts.some((id) => fixed.has(id))) return "the vehicle";
    if (cut && parts.some((id) => cut.hung.includes(id))) return "hung aside";
    return cut && parts.every((id) => cut.setAside.includes(id)) ? "set aside" : "apart";
  };
  const bodies = [...new Set(body.values())].map((set) => ({ parts: [...set], where: place([...set]) }));
  const order = ["on the hoist", "hung aside", "apart", "set aside", "the vehicle"];
  return bodies.sort((a, b) => order.indexOf(a.where) - order.indexOf(b.where));
}

/** Bodies as words: parts of one body are joined by ═ where something between them bears, by ─ where nothing does. */
function listBodies(vehicle: Vehicle, made: readonly Connection[], bodies: readonly Body[]): [string, string[]][] {
  const label = new Map(vehicle.parts.map(({ id, label }) => [id, label]));
  const rows = new Map<string, string[]>();
  for (const { parts, where } of bodies) {
    const seen: string[] = [];
    const words = parts.map((id, index) => {
      const bears = made.some(
        ({ carrying, joins }) => carrying && joins.includes(id) && joins.some((other) => seen.includes(other)),
      );
      seen.push(id);
      return `${index === 0 ? "" : bears ? "═ " : "─ "}${label.get(id) ?? id}`;
    });
    if (words.length > 0) words[words.length - 1] += ";";
    rows.set(where, [...(rows.get(where) ?? []), ...words]);
  }
  return [...rows].map(([where, words]) => [
    where,
    words.map((word, i) => (i === words.length - 1 ? word.slice(0, -1) : word)),
  ]);
}

function row(when: string, rows: readonly (readonly [string, readonly string[]])[], width: number): string[] {
  return rows.flatMap(([where, words], index) => {
    const head = `  ${(index === 0 ? when : "").padEnd(8)}${where.padEnd(14)}`;
    return fill(words, width - head.length).map((line, i) => (i === 0 ? head : " ".repeat(head.length)) + line);
  });
}

function drawTies(vehicle: Vehicle, released: readonly Connection[], after: readonly Body[], ink: Ink): string[] {
  const label = new Map(vehicle.parts.map(({ id, label }) => [id, label]));
  const bodyOf = new Map(after.flatMap((body, index) => body.parts.map((id) => [id, index] as const)));
  const ends = ({ joins }: Connection) => [...joins].sort((a, b) => (bodyOf.get(a) ?? 0) - (bodyOf.get(b) ?? 0));
  const parts = ({ joins }: Connection) => new Set(joins.map((id) => bodyOf.get(id))).size > 1;
  const across = released.filter(parts);
  const along = released.filter((connection) => !parts(connection));
  const key = (connection: Connection) => ends(connection).join(" ");
  const sorted = [...across].sort((a, b) => key(a).localeCompare(key(b)));
  const wide = Math.max(0, ...sorted.map((connection) => (label.get(ends(connection)[0] ?? "") ?? "").length));
  const far = Math.max(0, ...sorted.map((connection) => otherEnds(connection).length));
  function otherEnds(connection: Connection): string {
    return ends(connection)
      .slice(1)
      .map((id) => label.get(id) ?? id)
      .join(" + ");
  }
  return [
    ink.strong(`The cut: ${count(across.length, "tie")} between what comes apart`) +
      ink.faint("   (═ bears weight, ─ does not, ╳ released)"),
    ...sorted.map((connection) => {
      const stroke = connection.carrying ? "══" : "──";
      const near = (label.get(ends(connection)[0] ?? "") ?? "").padEnd(wide);
      return `  ${near} ${stroke}${ink.bad("╳")}${stroke} ${otherEnds(connection).padEnd(far)}  ${connection.label} ${ink.faint(`(${connection.id})`)}`;
    }),
    ...(along.length === 0
      ? []
      : [
          `  and ${count(along.length, "tie")} released between parts that still hang together: ${along.map(({ label }) => label).join("; ")}`,
        ]),
  ];
}

function count(n: number, word: string): string {
  return `${n} ${word}${n === 1 ? "" : "s"}`;
}

/** Words in lines of at most `width`, never broken. */
function fill(words: readonly string[], width: number): string[] {
  const lines: string[] = [];
  for (const word of words) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= width) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines.length > 0 ? lines : [""];
}
