// Owns the schedule that sheets share: the order of the address with its crew, its beginning and its pins, put to the engine.

import { useMemo } from "preact/hooks";
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

/**
 * The last schedule known of an order and crew, whatever was pinned: what the next search begins with, on whichever sheet. Of another file it is no schedule, and is left aside.
 */
let near: { readonly without: string; readonly schedule: Schedule } | undefined;

/**
 * Who does what when, sharper as it goes on.
 * @param isAsked nothing is, while it is false
 * @param seconds of search; as many as is usual where nothing is said
 */
export const useCrew = (pins: readonly Pin[] = NONE, isAsked = true, seconds?: number): Known<CrewSaid> => {
  const { order } = usePlan();
  const [{ crew, begins }] = useOrderState();
  const body = useMemo(() => {
    const start = minuteOf(begins);
    return order === undefined || !isAsked
      ? undefined
      : {
          order,
          ...(crew === undefined ? {} : { crew }),
          ...(start === undefined ? {} : { begins: start }),
          ...(pins.length === 0 ? {} : { pins }),
          ...(seconds === undefined ? {} : { seconds }),
        };
  }, [order, crew, begins, pins, isAsked, seconds]);
  const without = JSON.stringify({ order: body?.order, crew: body?.crew });
  const help = near?.without === without ? { near: near.schedule } : undefined;
  const known = useAnswer("crew", body, help);
  const schedule = known.isPlaceholderData ? undefined : known.data?.schedule;
  if (schedule !== undefined) near = { without, schedule };
  return known;
};
