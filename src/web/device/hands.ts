// Owns in whose hands this device is: who is signed in as the server says, and where it is not reached, who was when it last was.

import { useEffect } from "preact/hooks";
import { type Me, useDoor, useMe } from "../shop/door.ts";

/** What the server has paired this device as. */
export interface Paired {
  readonly id: string;
  readonly name: string;
  readonly site: string;
  readonly own: boolean;
}

export interface Hands {
  /** Undefined: nobody's. */
  readonly me: Me | undefined;
  readonly paired: Paired | undefined;
  /** As it was when the server was last reached. */
  readonly isKept: boolean;
  readonly isLoading: boolean;
}

const KEY = "unmoor-hands";

interface KeptHands {
  readonly me: Me | undefined;
  readonly paired: Paired | undefined;
}

const keptHands = (): KeptHands => {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? "{}") as KeptHands;
  } catch {
    return { me: undefined, paired: undefined };
  }
};

/** Whoever takes it up without the network goes on as who had it: the server looks at it when it hears of it (docs/security.md). */
export const useHands = (): Hands => {
  const door = useDoor();
  const asked = useMe();
  const paired = (door.data as { readonly device?: Paired | null } | undefined)?.device ?? undefined;
  const isKnown = door.data !== undefined && (!door.data.signedIn || asked !== undefined);
  useEffect(() => {
    if (!isKnown) return;
    try {
      localStorage.setItem(KEY, JSON.stringify({ me: asked, paired }));
    } catch {
      // Then whoever reloads without the network signs in when it is back.
    }
  }, [isKnown, asked, paired]);
  if (isKnown) return { me: asked, paired, isKept: false, isLoading: false };
  return { ...keptHands(), isKept: true, isLoading: door.isLoading };
};
