// Owns the marking of what was heard with doubt: a comment above each connection that is less sure than most, so that the file itself says what is to be looked at.

import type { Tie } from "./item.ts";
import { assumedOf } from "./outline.ts";
import { Sheet } from "./sheet.ts";

/** Below this somebody looks: what was named without being done, or done to what was never named. What was told in half a sentence is mostly right. */
const SURE = 0.65;

/** The text of a draft with its doubtful connections marked. */
export function markDoubts(text: string, ties: readonly Pick<Tie, "id" | "sure">[]): string {
  const sheet = new Sheet(text);
  const sure = new Map(ties.map((tie) => [tie.id, tie.sure]));
  for (const item of sheet.itemsOf("connections").toReversed()) {
    const share = sure.get(item.id) ?? 1;
    if (share >= SURE || assumedOf(sheet.lines, item).length > 0) continue;
    sheet.write(
      item,
      [...sheet.headOf(item), `  # assumed: heard so, ${Math.round(share * 100)} % sure`],
      sheet.blockOf(item),
    );
  }
  return sheet.text;
}
