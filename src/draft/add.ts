// Owns a connection of one's own in a draft: from its kind, its place, what it joins and how many, with the catalogue's time.

import type { Kind } from "../vehicle/index.ts";
import { minutesByKind } from "./by-kind.ts";
import { type At, CannotBe, counted, labelOf, placed } from "./lookup.ts";
import { capital } from "./names.ts";
import { written } from "./patch.ts";
import type { Sheet } from "./sheet.ts";

/** What a connection of one's own is. A part that is not there yet is given by its label. */
export interface Added {
  readonly kind: Kind;
  readonly at?: At;
  readonly joins: readonly [At, At];
  /** Left out, it is asked. */
  readonly count?: number;
  readonly label?: string;
  /** Where it was said: "caption 12, 0:41: the clip behind it". */
  readonly said?: string;
}

export function addConnection(
  sheet: Sheet,
  { kind, at, joins, count, label, said }: Added,
  above: readonly string[] = said === undefined ? [] : [`  # ${said.replace(/\s+/g, " ")}`],
): string {
  const [from, to] = [placed(sheet, joins[0], "parts"), placed(sheet, joins[1], "parts")];
  if (from === to) throw new CannotBe("it would tie a part to itself", "Choose two parts.");
  const position = at === undefined ? undefined : placed(sheet, at, "positions");
  const called = (id: string, section: string): string => {
    const item = sheet.itemsOf(section).find((one) => one.id === id);
    return (item === undefined ? id : labelOf(sheet.blockOf(item), id)).toLowerCase();
  };
  const name = label?.trim() || `${capital(kind)}, ${called(from, "parts")} to ${called(to, "parts")}`;
  const id = sheet.fresh(name);
  const wanted = count === undefined ? undefined : counted(count);
  const bolted = kind === "mount" || kind === "bolted joint" || kind === "flange";
  const lines = [
    `  ${id}:`,
    `    label: ${written(name)}`,
    `    joins: [${from}, ${to}]`,
    `    kind: ${kind}`,
    ...(wanted === 1 && !bolted
      ? []
      : [`    hardware: { item: ${bolted ? "bolt" : written(kind)}, count: ${wanted ?? '"?"'} }`]),
    `    release: { ${position === undefined ? "" : `at: ${position}, `}time: ${minutesByKind(kind, bolted ? "bolt" : undefined, wanted)} min }  # time by kind`,
    ...(bolted ? ['    refit: { torque: "?" }'] : []),
  ];
  if (!sheet.add("connections", above, lines.join("\n")))
    throw new CannotBe("the connections are written in brackets", "Write each on a line of its own, in the text.");
  return id;
}
