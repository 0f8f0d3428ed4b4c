// Owns the groups that are told and then one by one ("two fuel hoses: the feed hose and the return hose"): the members stay, the group goes.

import type { Tie } from "./item.ts";
import type { Memory } from "./memory.ts";
import { wordsOf } from "./names.ts";

/** Leaves out each group whose members were told right after it. */
export function leaveOutGroups(m: Memory): void {
  const { ties } = m.told;
  for (const group of [...ties]) {
    const at = ties.indexOf(group);
    if (isHeading(group, ties[at + 1])) {
      m.forget(group);
      continue;
    }
    const many = group.count ?? 2;
    // "main hoses" are no group of "pilot hose" and "drain hose": they are told apart.
    const isOneOf = wordsOf(group.label, m.language).some((word) => m.language.contrasts.has(word));
    if (isOneOf || !m.isPlural(group) || group.hardware !== undefined || many < 2 || many > 4) continue;
    const members = ties.slice(at + 1, at + 1 + many);
    if (members.length === many && members.every((one) => isMember(m, one, group))) m.forget(group);
  }
}

/** "now the exhaust: there's the exhaust pipe": what the talk turns to, before what is undone of it. */
const isHeading = (group: Tie, next: Tie | undefined): boolean =>
  next !== undefined &&
  !group.label.includes(" ") &&
  group.verb === undefined &&
  group.hardware === undefined &&
  (group.count ?? 1) === 1 &&
  group.at === next.at &&
  next.label.startsWith(`${group.label} `);

/** One of what the group's last word names. */
function isMember(m: Memory, one: Tie, group: Tie): boolean {
  const headOf = ({ label }: Tie): string => m.language.singular(wordsOf(label, m.language).at(-1) ?? "");
  return !m.isPlural(one) && one.at === group.at && one.kind === group.kind && headOf(one) === headOf(group);
}
