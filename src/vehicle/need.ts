// Owns how needs are written: an id, all, any, apart, out, clear, and lists in lists.

import type { Desk } from "./desk.ts";
import type { Need } from "./model.ts";
import { indexWords } from "./nearest.ts";
import { type Definitions, define, type JsonSchema, mention, type Shape, WRITTEN } from "./shape.ts";
import { isEmpty, type Node } from "./source.ts";

const step = mention("connection", "part", "task");
const part = mention("part");
const FORMS = ["all", "any", "apart", "out", "clear"] as const;
const nearest = indexWords(FORMS);
const CALLED = "a need: an id, or one of all, any, apart, out, clear";

function readNeed(node: Node, desk: Desk): Need | undefined {
  const made = readForm(node, desk);
  if (made !== undefined) desk.remember(made, node);
  return made;
}

function readForm(node: Node, desk: Desk): Need | undefined {
  if (node.kind === "text") {
    const id = step.read(node, desk, "needs");
    return id === undefined ? undefined : { id };
  }
  if (node.kind === "list") {
    if (node.items.length === 0)
      desk.fault("bad-need", node, "a list in a need is empty.", "Name at least one thing in it.", { words: [] });
    return { all: readAll(node, desk) };
  }
  const entry = node.entries[0];
  if (entry === undefined || node.entries.length > 1) {
    desk.fault(
      "bad-need",
      node,
      `a need has one word, and this has ${node.entries.length}.`,
      "Write each as an item of its own in the list.",
      {
        words: node.entries.map((each) => each.key.text),
      },
    );
    return undefined;
  }
  const { key, value } = entry;
  switch (key.text) {
    case "all":
    case "any": {
      const needs = readAll(value, desk);
      if (needs.length === 0 && (value.kind === "list" || isEmpty(value)))
        desk.fault("bad-need", value, `${key.text} of nothing.`, "Name at least one thing in it.", {
          words: [key.text],
        });
      return key.text === "all" ? { all: needs } : { any: needs };
    }
    case "apart": {
      const [a, b] = value.kind === "list" ? value.items : [];
      if (value.kind !== "list" || value.items.length !== 2 || a === undefined || b === undefined) {
        desk.fault("bad-need", value, "apart takes two parts.", "Write apart: [one part, the other].", {
          words: ["apart"],
        });
        return undefined;
      }
      const one = part.read(a, desk, "apart");
      const other = part.read(b, desk, "apart");
      return one === undefined || other === undefined ? undefined : { apart: [one, other] };
    }
    case "out":
    case "clear": {
      const id = part.read(value, desk, key.text);
      if (id === undefined) return undefined;
      return key.text === "out" ? { out: id } : { clear: id };
    }
    default: {
      const near = nearest(key.text);
      desk.fault(
        "bad-need",
        key,
        `${key.text} is no form of need.`,
        `${near === undefined ? "" : `Nearest: ${near}. `}Write an id, or ${FORMS.join(", ")}.`,
        { words: [key.text], ...(near === undefined ? {} : { nearest: near }) },
      );
      return undefined;
    }
  }
}

function readAll(node: Node, desk: Desk): readonly Need[] {
  const each = node.kind === "list" ? node.items.map((item) => readNeed(item, desk)) : [readNeed(node, desk)];
  return each.filter((need) => need !== undefined);
}

function schema(definitions: Definitions): JsonSchema {
  const needs = need.schema(definitions);
  const many: JsonSchema = { anyOf: [needs, { type: "array", items: needs, minItems: 1 }] };
  const form = (name: string, value: JsonSchema, description: string): JsonSchema => ({
    type: "object",
    properties: { [name]: { ...value, description } },
    required: [name],
    additionalProperties: false,
  });
  return {
    anyOf: [
      {
        ...WRITTEN,
        description: "A connection: it is released. A part: its every connection is released. A task: it is done.",
      },
      { type: "array", items: needs, minItems: 1, description: "All of these." },
      form("all", many, "All of these."),
      form("any", many, "At least one of these."),
      form(
        "apart",
        { type: "array", items: WRITTEN, minItems: 2, maxItems: 2 },
        "No chain of unreleased connections joins these two parts.",
      ),
      form("out", WRITTEN, "No chain of unreleased connections joins this part to a fixed part."),
      form("clear", WRITTEN, "This part is off, or has been hung aside."),
    ],
  };
}

const need: Shape<Need> = define("need", { called: CALLED, read: readNeed, schema });

/** A list of needs, all of which must hold; one alone needs no brackets. */
export const needs: Shape<readonly Need[]> = {
  called: `${CALLED}; or a list of such`,
  read: readAll,
  schema(definitions) {
    const one = need.schema(definitions);
    return { anyOf: [one, { type: "array", items: one }] };
  },
};
