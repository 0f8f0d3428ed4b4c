// Owns the schedule that sheets share: the order of the address with its crew, its beginning and its pins, put to the engine.

import { useMemo, useRef } from "preact/hooks";
import type { Schedule } from "../../crew/index.ts";
import type { Pin } from "../../plan/index.ts";
import type { CrewSaid } from "../engine/crews.ts";
import { useOrderState } from "../order/order-state.ts";
import { usePlan } from "../order/use-plan.ts";
import { type Known, useAnswer } from "../shop/model.tsx";

const NONE: readonly Pin[] = [];

/** Minutes after midnight. */
const minuteOf = (begins: string | undefined): number | undefined => {
  const [, hours, minutes] = /T(\d\d):(\d\d)$/.exec(begins ?? "") ?? [];
  return hours === undefined ? undefined : 60 * Number(hours) + Number(minutes);
};

/** Who does what when, sharper as it goes on. */
export const useCrew = (pins: readonly Pin[] = NONE): Known<CrewSaid> => {
  const { order } = usePlan();
  const [{ crew, begins }] = useOrderState();
  const body = useMemo(() => {
    const start = minuteOf(begins);
    return order === undefined
      ? undefined
      : {
          order,
          ...(crew === undefined ? {} : { crew }),
          ...(start === undefined ? {} : { begins: start }),
          ...(pins.length === 0 ? {} : { pins }),
        };
  }, [order, crew, begins, pins]);
  const without = JSON.stringify({ ...body, pins: [] });
  /** The best schedule known of this order and crew, whatever was pinned. */
  const near = useRef<{ readonly without: string; readonly schedule: Schedule }>();
  const help = near.current?.without === without ? { near: near.current.schedule } : undefined;
  const known = useAnswer("crew", body, help);
  const schedule = known.isPlaceholderData ? undefined : known.data?.schedule;
  if (schedule !== undefined) near.current = { without, schedule };
  return known;
};
