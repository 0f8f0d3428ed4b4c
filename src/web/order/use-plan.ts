// Owns the plan that the sheets share: the order of the address put to the engine about the model around.

import { useMemo } from "preact/hooks";
import type { Order } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import type { ReleaseSaid } from "../engine/asked.ts";
import { type Known, useAnswer, useModel } from "../shop/model.tsx";
import { askedOf, isPlain, useOrderState } from "./order-state.ts";

export interface Planned {
  readonly vehicle: Vehicle | undefined;
  readonly order: Order | undefined;
  readonly release: Known<ReleaseSaid>;
}

const nobody = () => undefined;

export const usePlan = (): Planned => {
  const { reading, run } = useModel();
  const { vehicle } = reading;
  const [state] = useOrderState();
  // Of a run it is the plan that was kept, unless something else is tried out here.
  const kept = run !== undefined && isPlain(state) ? run : undefined;
  const order = useMemo(() => {
    if (kept !== undefined) return kept.asked;
    return vehicle === undefined || vehicle.jobs.length + state.take.length === 0 ? undefined : askedOf(state, vehicle);
  }, [vehicle, state, kept]);
  const asked = useAnswer("release", order === undefined || kept !== undefined ? undefined : { order });
  const release = useMemo(
    (): Known<ReleaseSaid> =>
      kept === undefined
        ? asked
        : {
            data: { faults: [], plan: kept.plan, ms: 0, labour: {} },
            error: null,
            isFetching: false,
            isPlaceholderData: false,
            isError: false,
            refetch: nobody,
          },
    [kept, asked],
  );
  return { vehicle, order, release };
};
