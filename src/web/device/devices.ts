// Owns the devices of the shop as the server has them: their list, pairing this one, naming and withdrawing.

import { useQuery } from "@tanstack/preact-query";
import { signPairing } from "../../ledger/index.ts";
import { call } from "../shop/calls.ts";
import { type Me, useDoor } from "../shop/door.ts";
import { deviceIdentity } from "./identity.ts";

export interface Device {
  readonly id: string;
  readonly name: string;
  readonly site: string;
  /** Whose own it is; null where the site shares it. */
  readonly owner: string | null;
  readonly at: number;
  readonly by: string;
  readonly withdrawn: number | null;
}

export const useDevices = () => {
  const door = useDoor();
  return useQuery({
    queryKey: ["devices"],
    queryFn: async () => (await call<{ readonly devices: readonly Device[] }>("GET", "/devices")).body.devices,
    enabled: door.data?.signedIn === true,
  });
};

/** The device's key with the proof that it has it; nothing where the browser keeps none. */
const shown = async (): Promise<{ readonly key: string; readonly proof: string } | undefined> => {
  const identity = await deviceIdentity().catch(() => undefined);
  if (identity === undefined) return undefined;
  // The proof is bound to the session as the server has it now, not as it was when the page was opened.
  const { body: me } = await call<Me>("GET", "/me");
  return { key: identity.key, proof: signPairing(identity, me.session) };
};

/** @param own whether it is one's own, else the site's @returns whether it has a key @throws Refusal */
export const pairDevice = async (name: string, site: string, own: boolean): Promise<boolean> => {
  const key = await shown();
  await call<Device>("POST", "/devices", { name, site, own, ...key });
  return key !== undefined;
};

export const renameDevice = (id: string, name: string) =>
  call("PUT", `/devices/${encodeURIComponent(id)}`, { name }).then(() => undefined);

export const withdrawDevice = (id: string) =>
  call("DELETE", `/devices/${encodeURIComponent(id)}`).then(() => undefined);
