// Owns whether somebody sees a run: of another site's it is as if it were not there.

import type { Desks } from "./desks.ts";
import { notFound } from "./problem.ts";
import { has, someone, type Who } from "./who.ts";

/** @throws Problem 401, 404 */
export const seenRun = async (
  desks: Desks,
  who: Who | undefined,
  id: string,
): Promise<{ readonly id: string; readonly site: string }> => {
  const asked = someone(who);
  const site = await desks.siteOf(id);
  if (site === undefined || !has(asked, site)) throw notFound(["noRun", id], ["seeRuns"]);
  return { id, site };
};
