// Owns what the command line says of what a changed file leaves unsaid: what the change settled, and what it made doubtful.

import { remarksNow } from "../draft/index.ts";
import type { readVehicle } from "../vehicle/index.ts";
import type { Terminal } from "./terminal.ts";

/** @param load the texts of what the file includes */
export function sayUnsaid(
  before: string,
  after: string,
  load: (text: string) => ReturnType<typeof readVehicle>,
  { say, ink }: Pick<Terminal, "say" | "ink">,
): void {
  const of = (text: string): ReadonlyMap<string, string> => {
    const { vehicle } = load(text);
    const remarks = vehicle === undefined ? [] : remarksNow(text, vehicle);
    return new Map(remarks.map((remark) => [`${remark.rule} ${remark.about.join(" ")}`, remark.text]));
  };
  const [was, is] = [of(before), of(after)];
  const gone = [...was].filter(([name]) => !is.has(name));
  if (gone.length > 0) say(`Settled by that:\n${gone.map(([, text]) => `  ${text}`).join("\n")}`);
  if (is.size === 0) return;
  const lines = [...is].map(([name, text]) => `  ${was.has(name) ? "" : "New: "}${text}`);
  say(`${ink.doubt("Not said, and it matters:")}\n${lines.join("\n")}`);
}
