// Owns the looking up of ids: whether what a thing names is there and is of the right kind.

import { aThing, type Desk, type Mention } from "./desk.ts";
import type { Place } from "./fault.ts";
import { indexWords } from "./nearest.ts";
import { placeOf } from "./source.ts";

/** How a sentence says that a thing names another under this key. */
const VERBS: Readonly<Record<string, string>> = {
  needs: "needs",
  at: "is done at",
  joins: "joins",
  without: "is without",
  after: "comes after",
  then: "calls for",
  to: "is hung to",
  on: "is on",
  from: "is on",
  supports: "supports",
  lifts: "lifts",
  empties: "empties",
  hoist: "takes the hoist",
  swap: "swaps",
  first: "does first",
  pin: "hangs by",
  apart: "needs apart",
  out: "needs out",
  clear: "needs clear",
};

/** "line 97", or with its file where that is another one. */
const besides = (place: Place, file: string): string =>
  place.file === file ? `line ${place.line}` : `${place.file}:${place.line}`;

/** Checks every mention of an id against the ids there are. */
export function resolveMentions(desk: Desk): void {
  const indexes = new Map<string, ReturnType<typeof indexWords>>();
  const found = new Map<string, string | undefined>();
  const nearest = (mention: Mention): string | undefined => {
    const name = `${mention.id} ${mention.wanted.join()}`;
    if (!found.has(name)) found.set(name, search(mention));
    return found.get(name);
  };
  const search = ({ id, wanted }: Mention): string | undefined => {
    // First among what is wanted here, then, less freely, among everything.
    for (const things of [wanted, undefined]) {
      const name = things?.join() ?? "";
      let index = indexes.get(name);
      if (index === undefined) {
        const known = [...desk.ids].filter(([, each]) => things === undefined || things.includes(each.thing));
        index = indexWords(known.map(([word]) => word));
        indexes.set(name, index);
      }
      const near = index(id, things === undefined ? 1 : undefined);
      if (near !== undefined) return near;
    }
    return undefined;
  };
  for (const each of desk.mentions) {
    const { id, node, key, wanted } = each;
    const owner = each.owner === "" ? "the file" : each.owner;
    const says = `${owner} ${VERBS[key] ?? `names under ${key}`}`;
    const known = desk.ids.get(id);
    const omits = known === undefined ? desk.omitted.get(id) : undefined;
    if (omits !== undefined) {
      desk.fault(
        "unknown-id",
        node,
        `${says} ${id}, and that is omitted (${besides(placeOf(omits), node.source.file)}).`,
        `Write ${id} anew, or omit and write anew what names it.`,
        { owner, key, id, wanted },
        [omits],
      );
    } else if (known === undefined) {
      const near = nearest(each);
      const meant = near === undefined ? undefined : desk.ids.get(near);
      const values = { owner, key, id, wanted };
      if (near === undefined || meant === undefined)
        desk.fault(
          "unknown-id",
          node,
          `${says} "${id}", and nothing here is called that.`,
          `Nothing here has a name like it: write the id of ${aThing(...wanted)}.`,
          values,
        );
      else {
        const place = placeOf(meant.node);
        desk.fault(
          "unknown-id",
          node,
          `${says} "${id}", and nothing here is called that.`,
          `Nearest: ${near}, ${aThing(meant.thing)} (${besides(place, node.source.file)}).`,
          { ...values, nearest: near },
        );
      }
    } else if (!wanted.includes(known.thing))
      desk.fault(
        "wrong-thing",
        node,
        `${says} ${id}, and that is ${aThing(known.thing)} (${besides(placeOf(known.node), node.source.file)}).`,
        `Write the id of ${aThing(...wanted)}.`,
        { owner, key, id, thing: known.thing, wanted },
        [known.node],
      );
  }
}
