// Owns the file of changes, *.changes.yaml: the user's own ideas for the design, and how often each job comes. Read as the vehicle file is, every fault at its place.

import { type Minutes, minutes } from "../quantity/index.ts";
import {
  besideSchema,
  count,
  type Fault,
  indexWords,
  type JsonSchema,
  list,
  may,
  must,
  otherwise,
  quantity,
  readBeside,
  record,
  type Shape,
  text,
  things,
  type Vehicle,
  word,
} from "../vehicle/index.ts";
import { type Change, changeOf } from "./improve-change.ts";
import { toolsOf } from "./order.ts";

const FORMAT = "unmoor-changes/1";

export interface ChangesFile {
  readonly note?: string;
  readonly rate?: number;
  readonly jobs: readonly { readonly job: string; readonly times: number }[];
  readonly changes: readonly Change[];
}

/** A number above nothing, or from nothing upwards. */
const figure = (called: string, least: (value: number) => boolean): Shape<number> => ({
  called,
  read(node, desk, key) {
    const written = node.kind === "text" ? node.text.trim() : "";
    const value = /^\d+(?:\.\d+)?$/.test(written) ? Number(written) : Number.NaN;
    if (least(value)) return value;
    const says = node.kind === "text" ? `"${written}"` : `a ${node.kind}`;
    desk.fault("wrong-form", node, `${key} is ${says}, and ${called} is wanted.`, `Write ${called}.`, {
      key,
      wanted: called,
    });
    return undefined;
  },
  schema: () => ({ type: "number", description: called }),
});

const above = figure("a number above 0: 12", (value) => value > 0);
const from = figure("a number from 0: 140", (value) => value >= 0);

/** A name that the vehicle file has. */
const known = (called: string, names: readonly string[]): Shape<string> => {
  const nearest = indexWords(names);
  const has = new Set(names);
  return {
    called,
    read(node, desk, key) {
      const written = node.kind === "text" ? node.text.trim() : "";
      if (has.has(written)) return written;
      const near = nearest(written);
      const says = node.kind === "text" ? `"${written}"` : `a ${node.kind}`;
      desk.fault(
        "unknown-word",
        node,
        `${key} is ${says}, and the vehicle file has no such ${called}.`,
        near === undefined ? `Name ${called} of the vehicle file.` : `Nearest: ${near}.`,
        { key, text: written, ...(near === undefined ? {} : { nearest: near }) },
      );
      return undefined;
    },
    schema: () => ({ type: "string", description: called }),
  };
};

const EMPTY = { jobs: [], connections: [], tasks: [], positions: [], parts: [] } as const;

const ids = (of: readonly { readonly id: string }[]): readonly string[] => of.map(({ id }) => id);

/** The shape of the file for a vehicle; without one that of any, for its schema. */
const fileFor = (vehicle?: Vehicle): Shape<ChangesFile> => {
  const { jobs, connections, tasks, positions, parts } = vehicle ?? EMPTY;
  const step = record(
    "a changed step",
    {
      of: must(
        known("connection, way or task", [
          ...ids(connections),
          ...connections.flatMap(({ ways }) => ids(ways)),
          ...ids(tasks),
        ]),
        "?",
        "a connection (all its ways), a way (hose/2) or a task",
      ),
      off: may(quantity("time"), "how long it takes now to release or do it"),
      on: may(quantity("time"), "how long its refit or return takes now"),
      times: may(above, "instead: so many times what both took, 0.5"),
      drop: otherwise(
        list(known("connection, task or part", [...ids(connections), ...ids(tasks), ...ids(parts)])),
        [],
        "what it needs no longer",
      ),
    },
    ({ of, off, on, times, drop }) => ({
      of,
      ...(off === undefined ? {} : { off }),
      ...(on === undefined ? {} : { on }),
      ...(times === undefined ? {} : { times }),
      drop,
    }),
  );
  const way = record(
    "one more way to release a connection",
    {
      of: must(known("connection", ids(connections)), "?", "the connection"),
      label: otherwise(text, "as changed", "what the way is called"),
      at: may(known("position", ids(positions)), "where it is done; anywhere where it is not said"),
      off: must(quantity("time"), minutes(0), "how long the release takes"),
      on: must(quantity("time"), minutes(0), "how long the refit takes"),
    },
    (values: {
      readonly of: string;
      readonly label: string;
      readonly at?: string;
      readonly off: Minutes;
      readonly on: Minutes;
    }) => values,
  );
  const change = record(
    "a change of the design",
    {
      label: must(text, "?", "what it is"),
      steps: otherwise(list(step), [], "steps that take another time, or need less"),
      ways: otherwise(list(way), [], "ways that there are besides"),
      spare: otherwise(list(known("task", ids(tasks))), [], "tasks that nothing needs any longer"),
      people: may(count, "so many people more"),
      tools: otherwise(
        list(known("tool", vehicle === undefined ? [] : toolsOf(vehicle))),
        [],
        "tools of which there is one more",
      ),
      cost: may(from, "what it costs once for each vehicle, in the money of the rate"),
    },
    ({ label, people, cost, ...values }, { key: id }): Change => ({
      ...changeOf(id, label, "yours", "from the file of changes"),
      ...values,
      people: people ?? 0,
      ...(cost === undefined ? {} : { cost }),
    }),
  );
  const often = record(
    "how often a job comes",
    {
      job: must(known("job", ids(jobs)), "?", "a job of the vehicle file"),
      times: must(above, 1, "times a year"),
    },
    (values) => values,
  );
  return record(
    "a file of changes",
    {
      format: must(word([FORMAT] as const), FORMAT, `the format of the file: ${FORMAT}`),
      note: may(text, "anything worth knowing: invented figures"),
      rate: may(above, "what an hour of labour costs"),
      jobs: otherwise(
        list(often),
        [],
        "how often each job comes; all alike where none is named, never where others are",
      ),
      changes: otherwise(things("change", change), [], "changes to be tried, by id"),
    },
    ({ note, rate, jobs: weights, changes }): ChangesFile => ({
      ...(note === undefined ? {} : { note }),
      ...(rate === undefined ? {} : { rate }),
      jobs: weights,
      changes,
    }),
  );
};

/** Reads the text of a file of changes for a vehicle; absent when there is a fault. */
export const readChanges = (
  file: string,
  content: string,
  vehicle: Vehicle,
): { readonly changes?: ChangesFile; readonly faults: readonly Fault[] } => {
  const { value, faults } = readBeside(file, content, fileFor(vehicle));
  return { ...(value === undefined ? {} : { changes: value }), faults };
};

/** The JSON Schema of the file of changes. */
export const changesSchema = (): JsonSchema =>
  besideSchema(
    "File of changes",
    "Changes of a design to be tried, and how often each job comes: *.changes.yaml.",
    fileFor(),
  );
