// Owns what a thing of a draft is taken for: a connection that is a part after all, a part that is a connection, a part that is left out.

import type { Kind } from "../vehicle/index.ts";
import { addConnection } from "./add.ts";
import { VEHICLE } from "./joined.ts";
import { CannotBe, found, labelOf, made } from "./lookup.ts";
import type { Item } from "./outline.ts";
import { leaveOut, put, textIn, textsIn, written } from "./patch.ts";
import { SAYS } from "./says.ts";
import type { Sheet } from "./sheet.ts";

/** What a connection holds to becomes a part, and it is what holds that. */
export function toPart(sheet: Sheet, item: Item): string {
  const block = sheet.blockOf(item);
  const label = labelOf(block, item.id);
  const part = sheet.fresh(`${label} part`);
  const said = sheet.headOf(item);
  made(sheet, part, "parts", `{ label: ${written(label)}, mass: "?" }`);
  const now = found(sheet, item.id, "connections");
  const joins = textsIn(block, "joins");
  const fixed = sheet.fixed();
  const other = joins.find((id) => !fixed.includes(id)) ?? joins[0] ?? VEHICLE;
  let next = put(block, ["joins"], `[${part}, ${other}]`);
  if (!FASTENING.has(textIn(block, "kind") ?? "")) next = leaveOut(put(next, ["kind"], "bolted joint"), "holds");
  sheet.write(now, [...said, `${indentOf(block)}# assumed: ${SAYS.unheld}`], next);
  return part;
}

const indentOf = (block: string): string => /^\s*/.exec(block)?.[0] ?? "  ";
const FASTENING: ReadonlySet<string> = new Set([
  "bolted joint",
  "cover fixing",
  "mount",
  "flange",
  "bracket",
  "clamp",
  "clip",
  "coupling",
  "shaft joint",
] satisfies Kind[]);

/** What was taken for a part is a tie itself: what held it joins what it sat between. */
export function toConnection(sheet: Sheet, item: Item): string {
  const label = labelOf(sheet.blockOf(item), item.id);
  const [first] = loosen(sheet, item, "is no connection");
  if (first === undefined) {
    const said = sheet.headOf(item);
    sheet.write(found(sheet, item.id, "parts"), [], "");
    const assembly = sheet.assembly();
    if (assembly === undefined) throw new CannotBe("there is no part left that it could tie", "Add one first.");
    return addConnection(
      sheet,
      { kind: "bolted joint", joins: [{ id: assembly }, { id: sheet.fixed()[0] ?? VEHICLE }], label },
      said,
    );
  }
  const tie = found(sheet, first, "connections");
  const head = sheet.headOf(tie).filter((line) => !line.includes(`# assumed: ${SAYS.unheld}`));
  sheet.write(tie, head, put(sheet.blockOf(tie), ["label"], written(label)));
  sheet.write(found(sheet, item.id, "parts"), [], "");
  return first;
}

/** Has nothing join a part any more, and what needs it need its connections. Their ids. */
export function loosen(sheet: Sheet, { id }: Item, why: string): readonly string[] {
  const fixed = sheet.fixed();
  const assembly = sheet.assembly();
  if (id === assembly || fixed.includes(id))
    throw new CannotBe(
      `${id} ${why}: it is what comes out, or what it comes out of`,
      "Name another assembly in the jobs first.",
    );
  const ties = sheet.tiesOf(id).map((tie) => tie.id);
  for (const each of ties) {
    const tie = found(sheet, each, "connections");
    const block = sheet.blockOf(tie);
    const rest = textsIn(block, "joins").filter((one) => one !== id);
    const far = fixed.includes(rest[0] ?? "") ? (assembly ?? VEHICLE) : (fixed[0] ?? VEHICLE);
    const joins = rest.length < 2 ? [...rest, far] : rest;
    sheet.write(tie, sheet.headOf(tie), put(block, ["joins"], `[${joins.join(", ")}]`));
  }
  const [first, ...more] = ties;
  if (first !== undefined) {
    for (const each of more.toReversed()) sheet.nameBeside(id, each);
    sheet.rename(id, first);
  }
  sheet.forget(id);
  return ties;
}
