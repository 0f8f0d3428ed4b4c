// Owns the plan that a finding makes: solved beside the others' entries, kept, and put in force by an entry of its own.

import {
  type Body,
  type BodyOf,
  type Brief,
  type Ledger,
  planName,
  type Replan,
  type Told,
} from "../../ledger/index.ts";
import type { RunRecord } from "./run-record.ts";

/** How often a plan is made again because the work went on meanwhile. */
const PLANNINGS = 3;

/** Findings that may change what is left to do. */
const BEARS_ON_PLAN: ReadonlySet<string> = new Set([
  "sheared",
  "seized",
  "out of reach",
  "tool missing",
  "person gone",
]);

/** Entries that change what is left to do, or by which plan. */
const MOVES: ReadonlySet<string> = new Set([
  "loosened",
  "released",
  "refitted",
  "hung aside",
  "set aside",
  "brought back",
  "done",
  "undone",
  "drained",
  "filled",
  "finding",
  "closed",
  "plan replaced",
  "correction",
]);

export interface Replanned {
  readonly replan: Replan;
  readonly told: readonly Told[];
}

/** The finding that an entry makes or ends, where it may change what is left to do. */
export const bearing = (ledger: Ledger, body: Body): BodyOf<"finding"> | undefined => {
  const of = body.kind === "closed" ? body.finding : undefined;
  const finding = body.kind === "finding" ? body : ledger.findings().find(({ entry }) => entry === of)?.found;
  return finding !== undefined && BEARS_ON_PLAN.has(finding.what) ? finding : undefined;
};

/**
 * The plan that a finding makes, kept and in force. It is solved beside the others' entries, which go on; where these have changed what is left to do,
 * it is solved again. Solved only where it is wanted: whoever enters what was done need not load the solver.
 *
 * @param exclusive does work while nothing else changes the record
 */
export const replan = async (
  record: RunRecord,
  { author, body, entry }: { readonly author: string; readonly body: Body; readonly entry: string },
  exclusive: <T>(work: () => Promise<T>) => Promise<T>,
): Promise<Replanned | undefined> => {
  const finding = bearing(record.ledger, body);
  if (finding === undefined) return undefined;
  const { pinnedFiles, planAnew } = await import("../plan-anew.ts");
  const { store, world, order, run } = record;
  const { asked, people } = order;
  const files = await pinnedFiles(store, run);
  const replanner = world.replanner ?? ((anew) => planAnew(anew));
  for (let tries = 1; ; tries++) {
    const known = record.position;
    const { ledger, told: durable } = record;
    const plan = planName(run.id, ledger.list("plan", "plan replaced").length + 2);
    const entries = durable.map((one) => one.entry);
    const made = await replanner({ files, run, asked, people, brief: ledger.brief, entries, plan });
    const { kept } = made;
    if (kept === undefined) return { replan: made.replan, told: [] };
    const told = await exclusive(async () => {
      const isOld = record.told.some(
        ({ position, entry: { body: other } }) => position > known && MOVES.has(other.kind),
      );
      if (isOld && tries < PLANNINGS) return undefined;
      await store.savePlan({ id: plan, order: run.order, body: kept, at: world.now() });
      const replaced = { kind: "plan replaced", plan, because: finding.text, finding: entry } as const;
      return putInForce(record, author, replaced, kept.brief);
    });
    if (told !== undefined) return { replan: made.replan, told };
  }
};

const putInForce = (
  record: RunRecord,
  author: string,
  body: BodyOf<"plan replaced">,
  brief: Brief,
): Promise<readonly Told[]> =>
  record.persist(async () => {
    const told = record.draft(author, body);
    await record.keep();
    record.under(brief);
    return [told];
  });
