// Owns what a step of the schedule is called on the page, in its language: the schedule itself names it in English, the verb before what the file calls it.

import type { Words } from "../words/said.ts";
import type { Doing } from "./layout.ts";

const VERB = /^(Release|Loosen|Refit|Tighten): /;
const LOOK = /^Last look at (.*), before: (.*)$/s;

/** Without its verb: short, for a bar. */
export const bareName = ({ label }: Pick<Doing, "label">): string => label.replace(VERB, "");

export const stepName = (words: Words, { action, label }: Pick<Doing, "action" | "label">): string => {
  const [, looked, before] = LOOK.exec(label) ?? [];
  if (looked !== undefined) return words.timeline.lastLook(looked, before ?? "");
  if (!VERB.test(label)) return action === "wait" ? words.timeline.waits(label) : label;
  const bare = bareName({ label });
  return action === "release" || action === "loosen" || action === "refit" || action === "tighten"
    ? `${words.ties.actions[action]}: ${bare}`
    : bare;
};
