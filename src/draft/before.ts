// Owns what comes before what in a draft: what is undone before anything else, and what must be done before one thing.

import { CannotBe, found } from "./lookup.ts";
import { forget, put, sourceIn, textIn, textsIn } from "./patch.ts";
import type { Sheet } from "./sheet.ts";

/** The isolation: undone before anything else, and made again last; or not any more. */
export function comeFirst(sheet: Sheet, id: string, isFirst: boolean): string {
  found(sheet, id, "connections", "tasks");
  const before = firstOf(sheet);
  const rest = before.filter((one) => one !== id);
  const first = isFirst ? [...rest, id] : rest;
  if (first.length !== before.length || !isFirst)
    sheet.setTop("first", first.length === 0 ? undefined : `[${first.join(", ")}]`);
  return id;
}

/** What is undone before anything else. */
function firstOf(sheet: Sheet): readonly string[] {
  const section = sheet.sections.find(({ key }) => key === "first");
  // As a thing of its own, further in: so it may be written within brackets or line by line.
  return section === undefined ? [] : textsIn(`file:\n${sheet.blockOf(section).replace(/^(?=.)/gm, "  ")}`, "first");
}

/** Has a thing wait for another, or not any more. */
export function wait(sheet: Sheet, id: string, on: string, isNeeded: boolean): string {
  if (id === on) throw new CannotBe("it would wait for itself", "Choose another one.");
  const item = found(sheet, id, "connections", "tasks");
  found(sheet, on, "connections", "tasks");
  const block = sheet.blockOf(item);
  const path = item.section === "tasks" ? ["needs"] : ["release", "needs"];
  if (!isNeeded) {
    sheet.write(item, sheet.headOf(item), forget(block, on));
    return id;
  }
  if (textsIn(block, ...path).includes(on)) return id;
  const source = sourceIn(block, ...path);
  const isText = source !== undefined && textIn(block, ...path) !== undefined;
  if (source !== undefined && !isText && !source.startsWith("["))
    throw new CannotBe(`what ${id} needs is written line by line`, "Change it in the text.");
  const next =
    source === undefined
      ? `[${on}]`
      : isText
        ? `[${source}, ${on}]`
        : source.replace(/,?\s*\]$/, (end) => (source.length > end.length + 1 ? `, ${on}]` : `${on}]`));
  const changed = put(block, path, next);
  if (!textsIn(changed, ...path).includes(on))
    throw new CannotBe(`${id} has no way to be released`, "Write one under release, in the text.");
  sheet.write(item, sheet.headOf(item), changed);
  return id;
}
