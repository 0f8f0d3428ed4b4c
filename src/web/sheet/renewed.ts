// Owns what is done where a part of this page is no longer to be had: the server was brought up to date meanwhile, or is away.

import { unreached } from "../shop/calls.ts";

const KEY = "unmoor.renewed";
/** Milliseconds within which the page is not loaded anew a second time: then it is not its age that is wrong. */
const ONCE = 60_000;

/** Loads the page anew where the server has a newer one. What was typed is on the device. @throws Refusal where it is not to be reached */
export const chunkMissing = async (error: unknown): Promise<never> => {
  const isThere = await fetch("/", { method: "HEAD", cache: "no-store" }).then(
    ({ ok }) => ok,
    () => false,
  );
  if (!isThere) throw unreached(error);
  const last = Number(sessionStorage.getItem(KEY) ?? 0);
  if (Date.now() - last > ONCE) {
    sessionStorage.setItem(KEY, String(Date.now()));
    location.reload();
    // Until then nothing is shown.
    await new Promise(() => undefined);
  }
  throw error;
};
