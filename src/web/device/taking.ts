// Owns the taking along of a run: everything that the device needs to work it alone comes into its drawer, and is brought up to date.

import type { Brief } from "../../ledger/index.ts";
import type { Order, Plan } from "../../plan/index.ts";
import type { Files } from "../engine/asked.ts";
import { call } from "../shop/calls.ts";
import { Book } from "./book.ts";
import { openDrawer, type RunKept } from "./drawer.ts";

interface Record {
  readonly run: {
    readonly id: string;
    readonly site: string;
    readonly vehicle: string;
    readonly version: number;
    readonly opened: number;
    readonly closed: number | null;
  };
  readonly brief: Brief;
  readonly position: number;
}

interface KeptPlan {
  readonly plan: Plan;
  readonly order: { readonly asked: Order };
}

interface Entries {
  readonly entries: readonly { readonly position: number; readonly text: string }[];
  readonly next?: number;
}

const at = (run: string): string => `/runs/${encodeURIComponent(run)}`;

/** As much as comes at once. */
const PAGE = 2000;

const fetchRecord = async (run: string): Promise<Record> => (await call<Record>("GET", `${at(run)}/record`)).body;

/** The run as the server has it, without its entries. @throws Refusal */
const fetchKept = async (run: string): Promise<RunKept> => {
  const [record, { body: planned }, { body: sealing }] = await Promise.all([
    fetchRecord(run),
    call<KeptPlan>("GET", `/orders/${encodeURIComponent(run)}/plan`),
    call<{ readonly key: string }>("GET", "/sealing-key"),
  ]);
  const { vehicle, version, site, opened, closed } = record.run;
  const path = `/vehicles/${encodeURIComponent(vehicle)}?version=${version}`;
  const { body: model } = await call<{ readonly files: Files }>("GET", path);
  return {
    run,
    site,
    vehicle,
    version,
    files: model.files,
    plan: planned.plan,
    asked: planned.order.asked,
    people: record.brief.people,
    brief: record.brief,
    sealingKey: sealing.key,
    opened,
    closed,
    position: 0,
    at: Date.now(),
  };
};

/**
 * The book of a run on this device, fetched where the device has not got it.
 * @throws Refusal where it has not and the server is not reached, or refuses
 */
export const takeAlong = async (run: string): Promise<Book> => {
  const book = await Book.open(run);
  if (book !== undefined) return book;
  const kept = await fetchKept(run);
  const drawer = await openDrawer();
  // Another tab may have been quicker, and gone on since.
  const writing = drawer.transaction("runs", "readwrite");
  if ((await writing.store.get(run)) === undefined) await writing.store.put(kept);
  await writing.done;
  const fresh = await Book.open(run);
  if (fresh === undefined) throw new Error(`the device does not keep ${run}`);
  await catchUp(fresh);
  return fresh;
};

/** Everything behind what the book has. @throws Refusal */
export const catchUp = async (book: Book): Promise<void> => {
  for (let next: number | undefined = book.kept.position; next !== undefined; ) {
    const path: string = `${at(book.run)}/entries?behind=${next}&limit=${PAGE}`;
    const { body }: { readonly body: Entries } = await call<Entries>("GET", path);
    await book.takeIn(body.entries);
    next = body.next;
  }
  if (book.isBehind) await bringBrief(book);
};

/** The brief of the plan that is in force now. @throws Refusal */
export const bringBrief = async (book: Book): Promise<void> => {
  const { brief, run } = await fetchRecord(book.run);
  if (brief.plan !== book.brief.plan) await book.replan(brief);
  if (run.closed !== book.kept.closed) await book.keep({ closed: run.closed });
};

/** Runs that this device has with it, the latest first. */
export const takenAlong = async (): Promise<readonly RunKept[]> =>
  (await (await openDrawer()).getAll("runs")).sort((a, b) => b.at - a.at);

/** Leaves a run behind, with all that is kept of it; false where entries wait that the server has not got. */
export const leaveBehind = async (run: string): Promise<boolean> => {
  const drawer = await openDrawer();
  const leaving = drawer.transaction(["runs", "entries", "photos"], "readwrite");
  const entries = leaving.objectStore("entries");
  if ((await entries.index("waits").count([run, 1])) > 0) return false;
  for (const key of await entries.index("run").getAllKeys(run)) void entries.delete(key);
  const photos = leaving.objectStore("photos");
  for (const key of await photos.index("run").getAllKeys(run)) void photos.delete(key);
  void leaving.objectStore("runs").delete(run);
  await leaving.done;
  return true;
};
