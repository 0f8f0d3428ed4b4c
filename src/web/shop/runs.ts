// Owns orders and runs as the server has them: the list, one run as it stands, followed live, and the taking of an order.

import { useQuery, useQueryClient } from "@tanstack/preact-query";
import { useEffect, useState } from "preact/hooks";
import type { BriefPerson } from "../../ledger/index.ts";
import type { Order, Plan } from "../../plan/index.ts";
import type { RunDocument, RunListDocument } from "../../server/index.ts";
import { takenWith } from "../device/drawer.ts";
import type { Files } from "../engine/asked.ts";
import { call, Refusal } from "./calls.ts";
import { useDoor } from "./door.ts";

/** A plan as it was kept when the order was taken. */
export interface KeptPlan {
  readonly plan: Plan;
  readonly order: { readonly asked: Order; readonly people: readonly BriefPerson[] };
  readonly vehicle: string;
  readonly version: number;
}

export const useOrders = () => {
  const door = useDoor();
  return useQuery({
    queryKey: ["orders"],
    queryFn: async () => (await call<RunListDocument>("GET", "/orders?limit=100")).body.orders,
    enabled: door.data?.signedIn === true,
  });
};

/** The plan of an order with the vehicle's files of that version; without a line as this device has it with it. @throws Refusal */
export const fetchRun = async (id: string, signal: AbortSignal) => {
  try {
    return await fetchFromServer(id, signal);
  } catch (error) {
    const kept = error instanceof Refusal && error.status === 0 ? await takenWith(id) : undefined;
    if (kept === undefined) throw error;
    const { files, version, vehicle, plan, asked } = kept;
    return { files, version, run: { id, vehicle, plan, asked, people: [] } };
  }
};

const fetchFromServer = async (id: string, signal: AbortSignal) => {
  const { body: kept } = await call<KeptPlan>("GET", `/orders/${encodeURIComponent(id)}/plan`, undefined, {}, signal);
  const { plan, order, vehicle, version } = kept;
  const { body: model } = await call<{ readonly files: Files }>(
    "GET",
    `/vehicles/${encodeURIComponent(vehicle)}?version=${version}`,
    undefined,
    {},
    signal,
  );
  return { files: model.files, version, run: { id, vehicle, plan, asked: order.asked, people: order.people } };
};

/** How a run stands, told anew with every entry that anybody makes; undefined where it has not begun. */
export const useRun = (id: string | undefined): RunDocument | undefined => {
  const queries = useQueryClient();
  const standing = useQuery({
    queryKey: ["run", id],
    queryFn: async () => (await call<RunDocument>("GET", `/runs/${encodeURIComponent(id ?? "")}`)).body,
    enabled: id !== undefined,
    retry: false,
  });
  const hasBegun = standing.data !== undefined;
  useEffect(() => {
    if (id === undefined || !hasBegun) return;
    const entries = queries.getQueryData<RunDocument>(["run", id])?.entries ?? 0;
    const live = new EventSource(`/api/runs/${encodeURIComponent(id)}/live?behind=${entries}`);
    let soon: ReturnType<typeof setTimeout> | undefined;
    // Of many at once, as when a tablet comes back, one look at them all is enough.
    live.addEventListener("entry", () => {
      clearTimeout(soon);
      soon = setTimeout(() => void queries.invalidateQueries({ queryKey: ["run", id] }), 60);
    });
    return () => {
      clearTimeout(soon);
      live.close();
    };
  }, [id, hasBegun, queries]);
  return standing.data;
};

export interface Member {
  readonly person: string;
  readonly name: string;
  readonly skills: readonly string[];
  readonly sites: Readonly<Record<string, readonly string[]>>;
}

/** Those of a site who may work, verify or approve there. */
export const usePeople = (site: string | undefined) =>
  useQuery({
    queryKey: ["people", site],
    queryFn: async () =>
      (await call<{ readonly people: readonly Member[] }>("GET", "/people?limit=200")).body.people.filter(
        ({ sites }) => (sites[site ?? ""] ?? []).length > 0,
      ),
    enabled: site !== undefined,
  });

export interface OrderGiven {
  readonly site: string;
  readonly vehicle: string;
  readonly version: number;
  readonly people: readonly string[];
  readonly machine?: string;
  readonly order: Order;
}

/** Milliseconds before the server is asked again whether it has its plan. */
const AGAIN = 700;

/** Gives an order to the shop and begins its run; waits while the server plans. @throws Refusal */
export const giveOrder = async (id: string, given: OrderGiven, signal: AbortSignal): Promise<void> => {
  const { jobs, keep, take, released, hoist, withoutTools } = given.order;
  const body = {
    site: given.site,
    vehicle: given.vehicle,
    version: given.version,
    people: given.people,
    jobs,
    keep,
    take,
    released,
    ...(hoist === undefined ? {} : { hoist }),
    ...(withoutTools === undefined ? {} : { withoutTools }),
    ...(given.machine === undefined ? {} : { machine: given.machine }),
  };
  while ((await call("PUT", `/orders/${encodeURIComponent(id)}`, body, {}, signal)).status === 202)
    await new Promise((resolve) => setTimeout(resolve, AGAIN));
  await call("PUT", `/runs/${encodeURIComponent(id)}`, undefined, {}, signal);
};

/** Milliseconds between two looks at the clock. */
const TICK = 15_000;
const MINUTE = 60_000;

/** Minutes since the first entry of a run; undefined where it has none, or none is asked about. */
export const useMinute = (id: string | undefined): number | undefined => {
  const first = useQuery({
    queryKey: ["run-began", id],
    queryFn: async () => {
      const { body } = await call<{ readonly entries: readonly { readonly text: string }[] }>(
        "GET",
        `/runs/${encodeURIComponent(id ?? "")}/entries?limit=1`,
      );
      const [entry] = body.entries;
      return entry === undefined ? null : (JSON.parse(entry.text) as { readonly at: number }).at;
    },
    enabled: id !== undefined,
    retry: false,
  }).data;
  const [now, setNow] = useState(Date.now());
  useEffect(() => {
    if (first == null) return;
    const clock = setInterval(() => setNow(Date.now()), TICK);
    return () => clearInterval(clock);
  }, [first]);
  return first == null ? undefined : Math.max(0, (now - first) / MINUTE);
};
