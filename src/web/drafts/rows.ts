// Owns the list of a draft: everything that was told, grouped by position, with what was assumed of it and the words that it comes from.

import type { Noted, Said } from "../../draft/index.ts";
import type { Kind, Vehicle } from "../../vehicle/index.ts";

export interface Row {
  readonly id: string;
  readonly label: string;
  readonly is: "connection" | "part" | "task";
  readonly kind?: Kind;
  /** Of its hardware; absent where it is one, or nobody said. */
  readonly count?: number;
  readonly joins: readonly string[];
  /** Labels of what it joins. */
  readonly between: readonly string[];
  /** Empty where none was said. */
  readonly at: string;
  readonly assumed: readonly string[];
  readonly said: readonly Said[];
}

export interface Group {
  readonly id: string;
  /** Absent: connections without a position. */
  readonly label?: string;
  readonly is: "position" | "parts" | "tasks";
  readonly rows: readonly Row[];
}

/** The groups in the order of the file, the vehicle itself left out. */
export const groupsOf = (vehicle: Vehicle, notes: readonly Noted[]): readonly Group[] => {
  const noted = new Map(notes.map((note) => [note.id, note]));
  const labels = new Map(vehicle.parts.map(({ id, label }) => [id, label]));
  const comments = (id: string) => ({ assumed: noted.get(id)?.assumed ?? [], said: noted.get(id)?.said ?? [] });
  const ties = vehicle.connections.map((one): Row => {
    const count = one.hardware.reduce((sum, { count: each }) => sum + each, 0);
    return {
      id: one.id,
      label: one.label,
      is: "connection",
      kind: one.kind,
      ...(count > 1 ? { count } : {}),
      joins: one.joins,
      between: one.joins.map((id) => labels.get(id) ?? id),
      at: one.ways[0]?.at ?? "",
      ...comments(one.id),
    };
  });
  const other = (
    is: "part" | "task",
    { id, label }: { readonly id: string; readonly label: string },
    at = "",
  ): Row => ({
    id,
    label,
    is,
    joins: [],
    between: [],
    at,
    ...comments(id),
  });
  const groups: Group[] = vehicle.positions.map(({ id, label }) => ({
    id,
    label,
    is: "position",
    rows: ties.filter(({ at }) => at === id),
  }));
  groups.unshift({ id: "", is: "position", rows: ties.filter(({ at }) => at === "") });
  groups.push(
    {
      id: "parts",
      is: "parts",
      rows: vehicle.parts.filter(({ fixed }) => !fixed).map((part) => other("part", part)),
    },
    { id: "tasks", is: "tasks", rows: vehicle.tasks.map((task) => other("task", task, task.at)) },
  );
  return groups.filter(({ rows }) => rows.length > 0);
};

/** Those whose label, kind or what they join has the words; on demand only what is to be looked at. */
export const filtered = (
  groups: readonly Group[],
  query: string,
  toLook: boolean,
  kindOf: (kind: Kind) => string,
): readonly Group[] => {
  const text = query.trim().toLocaleLowerCase();
  if (text === "" && !toLook) return groups;
  return groups
    .map((group) => ({
      ...group,
      rows: group.rows.filter(
        ({ id, label, kind, between, assumed }) =>
          (!toLook || assumed.length > 0) &&
          (text === "" ||
            [id, label, kind === undefined ? "" : kindOf(kind), ...between]
              .join(" ")
              .toLocaleLowerCase()
              .includes(text)),
      ),
    }))
    .filter(({ rows }) => rows.length > 0);
};
