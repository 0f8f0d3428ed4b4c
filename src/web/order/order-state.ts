// Owns the order as the address of the page holds it: whoever sends the address sends the order, and back takes a change back.

import { useCallback, useMemo } from "preact/hooks";
import { useLocation, useSearch } from "wouter-preact";
import type { Order } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";

/** What is asked, as a person chooses it. */
export interface OrderState {
  readonly jobs: readonly string[];
  readonly keep: readonly string[];
  readonly take: readonly string[];
  readonly released: readonly string[];
  readonly without: readonly string[];
  readonly hoist?: string | undefined;
  /** So many who can do anything, or ids of the shop's people; absent: all of the shop, or two where it names none. */
  readonly crew?: number | readonly string[] | undefined;
  /** The day and time that it begins, as `2026-11-27T07:00` of the site. */
  readonly begins?: string | undefined;
}

const LISTS = ["jobs", "keep", "take", "released", "without"] as const;
const BEGINS = /^\d{4}-\d\d-\d\dT\d\d:\d\d$/;
/** More hands than any position has room for. */
const MOST_PEOPLE = 30;

/** An id of a file may hold a comma, so each of a list has its own key. */
export const readOrder = (search: string): OrderState => {
  const given = new URLSearchParams(search);
  const [jobs = [], keep = [], take = [], released = [], without = []] = LISTS.map((name) => [
    ...new Set(given.getAll(name)),
  ]);
  const hoist = given.get("hoist") ?? undefined;
  const people = given.getAll("crew");
  const count = people.length === 1 && /^\d+$/.test(people[0] ?? "") ? Number(people[0]) : undefined;
  const begins = given.get("begins") ?? undefined;
  return {
    jobs,
    keep,
    take,
    released,
    without,
    ...(hoist === undefined ? {} : { hoist }),
    ...(people.length === 0 ? {} : { crew: count === undefined ? people : Math.min(MOST_PEOPLE, Math.max(1, count)) }),
    ...(begins !== undefined && BEGINS.test(begins) ? { begins } : {}),
  };
};

/** The address's keys that are the order's, in a fixed order; others of it stay as they are. */
export const writeOrder = (order: OrderState, search = ""): string => {
  const rest = new URLSearchParams(search);
  for (const name of [...LISTS, "hoist", "crew", "begins"]) rest.delete(name);
  const own = new URLSearchParams();
  for (const name of LISTS) for (const id of order[name]) own.append(name, id);
  if (order.hoist !== undefined) own.set("hoist", order.hoist);
  for (const one of typeof order.crew === "number" ? [String(order.crew)] : (order.crew ?? [])) own.append("crew", one);
  if (order.begins !== undefined) own.set("begins", order.begins);
  for (const [name, value] of rest) own.append(name, value);
  return own.toString();
};

/** Whether the address asks for nothing of its own. */
export const isPlain = ({ jobs, keep, take, released, without, hoist }: OrderState): boolean =>
  jobs.length + keep.length + take.length + released.length + without.length === 0 && hoist === undefined;

/** Where the address names no job it is the file's first. */
export const jobsOf = (state: OrderState, vehicle: Vehicle): readonly string[] =>
  state.jobs.length > 0 || state.take.length > 0 ? state.jobs : vehicle.jobs.slice(0, 1).map(({ id }) => id);

/** As the planner takes it. */
export const askedOf = (state: OrderState, vehicle: Vehicle): Order => {
  const { keep, take, released, without, hoist, crew } = state;
  const people =
    typeof crew === "number"
      ? crew
      : crew === undefined
        ? undefined
        : vehicle.shop.people.filter(({ id }) => crew.includes(id));
  return {
    jobs: jobsOf(state, vehicle),
    keep,
    take,
    released,
    ...(hoist === undefined ? {} : { hoist }),
    ...(without.length === 0 ? {} : { withoutTools: without }),
    ...(people === undefined ? {} : { people }),
  };
};

/** The order of this page, and the change of a part of it; a change is a step that the browser's back undoes. */
export const useOrderState = (): readonly [OrderState, (part: Partial<OrderState>) => void] => {
  const search = useSearch();
  const [path, navigate] = useLocation();
  const state = useMemo(() => readOrder(search), [search]);
  const change = useCallback(
    (part: Partial<OrderState>) => navigate(`${path}?${writeOrder({ ...state, ...part }, search)}`),
    [state, search, path, navigate],
  );
  return [state, change];
};
