// Owns the kit as text: bags to count by, what is new, what is poured, what goes in and comes out, the storeman's walk, what to stand by.

import type { KitDocument } from "./fastening-documents.ts";
import { type Terminal, wrap } from "./terminal.ts";

/** Lines of the stand-by list that fit on a page; the document has them all. */
const STAND_BY = 12;

type Counts = readonly { readonly item: string; readonly count: number }[];
const list = (items: Counts): string => items.map(({ item, count }) => `${count} × ${item}`).join(", ");

const SMALL = { L: "mL", kg: "g", m: "mm" } as const;
/** 0.002 L as 2 mL: what a storeman measures out. */
function amount(value: number, unit: "L" | "kg" | "m"): string {
  return value < 0.1
    ? `${Number((value * 1000).toPrecision(3))} ${SMALL[unit]}`
    : `${Number(value.toPrecision(3))} ${unit}`;
}

const oneOrMore = (steps: readonly number[]): string => `step${steps.length === 1 ? "" : "s"} ${steps.join(", ")}`;

/** The kit for a terminal or a printer. */
export function sayKit(kit: KitDocument, { ink, width }: Terminal): string {
  const line = (text: string) => wrap(text, width, "  ");
  const part = (head: string, lines: readonly string[]) => (lines.length === 0 ? [] : ["", ink.strong(head), ...lines]);
  return [
    `${ink.strong(`Kit: ${kit.jobs.map(({ label }) => label).join(", ")}`)}, ${kit.vehicle}${kit.note === undefined ? "" : ` (${kit.note})`}`,
    ...part(
      "BAGS  one a connection, tagged with its name: what is counted out is counted in",
      kit.bags.flatMap((bag) => line(sayBag(bag))),
    ),
    ...part(
      "NEW PARTS",
      kit.newParts.flatMap(({ item, count, steps }) => line(`[ ] ${count} × ${item} (${oneOrMore(steps)})`)),
    ),
    ...part(
      "FLUIDS  as much as runs out; measure it, and fill the same",
      kit.fluids.flatMap((one) => line(sayFluid(one))),
    ),
    ...part(
      "USED AGAIN by the file, new each time by common practice: ask the maker's book",
      kit.usuallyNew.flatMap(({ item, count, at, step }) => line(`${count} × ${item} at ${at}, step ${step}`)),
    ),
    ...part(
      "PLUGS AND CAPS  as many as are in at once",
      kit.plugs.flatMap(({ item, count }) => line(`[ ] ${count} × ${item}`)),
    ),
    ...part(
      "PUT IN FOR THE JOB  as many as are in at once",
      kit.temporary.flatMap(({ item, count }) => line(`[ ] ${count} × ${item}`)),
    ),
    ...part(
      "IN AND OUT AGAIN  tick both: what is still in at the end was forgotten",
      sayInAndOut(kit.inAndOut, ink.bad("nothing takes it out")).flatMap(line),
    ),
    ...part(
      "USED UP",
      kit.consumables.flatMap((one) => line(sayUsed(one))),
    ),
    ...part(
      "TOOLS BY POSITION",
      kit.tools.flatMap(({ position, tools }) => line(`${position}: ${tools.map(({ tool }) => tool).join(", ")}`)),
    ),
    ...part("THE STOREMAN'S WALK  shelf by shelf", sayWalk(kit.picking)),
    ...part("STAND BY  in case", [
      ...kit.standBy.slice(0, STAND_BY).flatMap((one) => line(sayStandBy(one))),
      ...(kit.standBy.length > STAND_BY ? [`  and ${kit.standBy.length - STAND_BY} more, in --json`] : []),
      ...line(kit.standByNote),
    ]),
    ...kit.transfers.flatMap(({ parts }) =>
      part(
        "CARRIED OVER to the new assembly",
        parts.flatMap((one) => line(sayTransfer(one))),
      ),
    ),
    ...part(
      "DOES NOT COME OUT EVEN",
      kit.uneven.flatMap(({ what, item, count, at, step }) =>
        line(`${ink.bad(what)}: ${count} × ${item} at ${at}, step ${step}`),
      ),
    ),
  ].join("\n");
}

function sayBag({ connection, hardware, out, in: back, again, scrap }: KitDocument["bags"][number]): string {
  const total = again + scrap;
  const into = back === undefined ? "no step puts it back" : `[ ] in ${total} at ${back}`;
  const rest = scrap === 0 ? "" : again === 0 ? "; scrap, new ones go in" : `; ${scrap} of them scrap, new ones go in`;
  return `[ ] out ${total} at ${out}, ${into}: ${connection}, ${list(hardware)}${rest}`;
}

function sayFluid({ fluid, litres, unstated }: KitDocument["fluids"][number]): string {
  return `[ ] ${fluid}: ${[
    ...(litres > 0 ? [amount(litres, "L")] : []),
    ...(unstated.length > 0 ? [`an amount that the file does not state: ${unstated.join(", ")}`] : []),
  ].join(", and ")}`;
}

function sayUsed({ item, amount: sum, asNeeded, steps }: KitDocument["consumables"][number]): string {
  // Of a thing that half the steps take the steps say nothing.
  const at = steps.length > 6 ? `${steps.length} steps` : oneOrMore(steps);
  if (sum === undefined) return `[ ] ${item}, as needed (${at})`;
  const more = asNeeded.length === 0 ? "" : ` and as needed at ${oneOrMore(asNeeded)}`;
  return `[ ] ${item}: ${amount(sum.value, sum.unit)}${more} (${at})`;
}

/** What goes in and comes out with the same two steps stands together: one look at one place. */
function sayInAndOut(things: KitDocument["inAndOut"], never: string): string[] {
  const pairs = new Map<string, string[]>();
  for (const { item, count, in: into, out } of things) {
    const key = `in [ ] ${into}, out [ ] ${out ?? never}`;
    pairs.set(key, [...(pairs.get(key) ?? []), `${count} × ${item}`]);
  }
  return [...pairs].map(([key, names]) => `${key}: ${names.join(", ")}`);
}

/** Shelf by shelf, a line a thing; nothing where no shelf is known, for then the lists above are the walk. */
function sayWalk(picking: KitDocument["picking"]): string[] {
  if (picking.every(({ shelf }) => shelf === undefined)) return [];
  const shelves = new Map<string, string[]>();
  for (const { shelf = "no shelf", item, count, unit, stock } of picking) {
    const much = unit === undefined ? `${count} ×` : amount(count, unit);
    // What is measured is not counted in pieces on the shelf.
    const short = stock !== undefined && unit === undefined && stock < count;
    const there = short ? `, ${stock === 0 ? "NONE" : `ONLY ${stock}`} THERE` : "";
    shelves.set(shelf, [...(shelves.get(shelf) ?? []), `    [ ] ${much} ${item}${there}`]);
  }
  return [...shelves].flatMap(([shelf, lines]) => [`  ${shelf}`, ...lines]);
}

function sayStandBy({
  item,
  chance,
  delay,
  stock,
  price,
  worth,
  for: findings,
}: KitDocument["standBy"][number]): string {
  const places = findings.map(({ at }) => at);
  const cost =
    price === undefined ? "" : `, costs ${price}${worth === true ? ", saves more than that" : ", more than it saves"}`;
  const there = stock === undefined ? "" : stock > 0 ? `; ${stock} in store` : "; NONE IN STORE";
  return `${item}: ${(chance * 100).toFixed(1)} % for ${delay} min (${findings[0]?.finding}, ${places.slice(0, 3).join(", ")}${places.length > 3 ? " …" : ""})${cost}${there}`;
}

const sayTie = ({
  connection,
  torque,
}: {
  readonly connection: string;
  readonly torque?: number | undefined;
}): string => `${connection}${torque === undefined ? "" : ` at ${Number(torque.toPrecision(3))} N·m`}`;

function sayTransfer({ label, ties, fresh, settings }: KitDocument["transfers"][number]["parts"][number]): string {
  const by = ties.map(sayTie).join(", ") || "by itself";
  const seals = fresh.length > 0 ? `; new ${list(fresh)}` : "";
  return `[ ] ${label}: ${by}${seals}${settings.length > 0 ? `; ${settings.join("; ")}` : ""}`;
}
