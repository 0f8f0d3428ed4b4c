// Owns the plan that the sheets share: the order of the address put to the engine about the model around.

import { useMemo } from "preact/hooks";
import type { Order } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import type { ReleaseSaid } from "../engine/asked.ts";
import { type Known, useAnswer, useModel } from "../shop/model.tsx";
import { askedOf, useOrderState } from "./order-state.ts";

export interface Planned {
  readonly vehicle: Vehicle | undefined;
  readonly order: Order | undefined;
  readonly release: Known<ReleaseSaid>;
}

export const usePlan = (): Planned => {
  const { vehicle } = useModel().reading;
  const [state] = useOrderState();
  const order = useMemo(
    () =>
      vehicle === undefined || vehicle.jobs.length + state.take.length === 0 ? undefined : askedOf(state, vehicle),
    [vehicle, state],
  );
  const release = useAnswer("release", order === undefined ? undefined : { order });
  return { vehicle, order, release };
};
