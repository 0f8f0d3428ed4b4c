// Owns the opening of the run of an order.

import { planName } from "../../ledger/index.ts";
import { type Run, type Store, StoreFault } from "../../store/index.ts";

/** Opens the run of an order, or gives it where it is open already. */
export const openRun = async (store: Store, id: string, by: string, now: number): Promise<Run> => {
  const known = await store.run(id);
  if (known !== undefined) return known;
  if ((await store.order(id)) === undefined)
    throw new StoreFault("unknown", id, "there is no order of this name", "See the list: unmoor run SHOP.");
  return store.openRun({ id, order: id, plan: planName(id, 1), at: now, by });
};
