// Owns the putting of what was told later into a draft that is there already: its things behind those of the draft, each under an id of its own, and what has the same name taken as the same.

import { VEHICLE } from "./joined.ts";
import { labelOf } from "./lookup.ts";
import { Ids } from "./names.ts";
import type { Item } from "./outline.ts";
import { renameEverywhere, textIn } from "./patch.ts";
import { Sheet } from "./sheet.ts";

interface Extended {
  readonly text: string;
  readonly renamed: ReadonlyMap<string, string>;
}

const TOLD = ["positions", "parts", "connections", "tasks"] as const;

/** @param text of the draft that is there @param later the draft of what was told since; its jobs are left out @returns also under which ids things are there that were told under others */
export function extendDraft(text: string, later: string): Extended {
  const draft = new Sheet(text);
  const more = new Sheet(later);
  const called = (sheet: Sheet, item: Item) => labelOf(sheet.blockOf(item), item.id).toLowerCase();
  const known = new Map(
    TOLD.flatMap((section) =>
      draft.itemsOf(section).map((item) => [`${section} ${called(draft, item)}`, item.id] as const),
    ),
  );
  const assembly = more.assembly();
  const ids = new Map<string, string>([[VEHICLE, draft.fixed()[0] ?? VEHICLE]]);
  if (assembly !== undefined) ids.set(assembly, draft.assembly() ?? assembly);
  // A new id may be neither one that is there nor one that comes later.
  const names = new Ids();
  for (const { items } of [...draft.sections, ...more.sections]) for (const { id } of items) names.take(id);
  const fresh: Item[] = [];
  for (const section of TOLD)
    for (const item of more.itemsOf(section)) {
      // The same connection told again is one of the remarks' questions: it comes in beside the first, and is merged or left out by hand.
      const same = section === "connections" ? undefined : known.get(`${section} ${called(more, item)}`);
      if (ids.has(item.id)) continue;
      if (same === undefined) fresh.push(item);
      const taken = TOLD.some((one) => draft.itemsOf(one).some(({ id }) => id === item.id));
      ids.set(item.id, same ?? (taken ? names.make(textIn(more.blockOf(item), "label") ?? item.id) : item.id));
    }
  const renamed = new Map([...ids].filter(([from, to]) => from !== to));
  for (const item of fresh) {
    const id = ids.get(item.id) ?? item.id;
    const key = more.blockOf(item).replace(/^(\s*)[^:]+?(?=\s*:)/, `$1${id}`);
    draft.add(item.section, more.headOf(item), renameEverywhere(key, renamed));
  }
  return { text: draft.text, renamed };
}
