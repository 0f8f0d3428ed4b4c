// Owns in whose hands this device is: who is signed in as the server says; where it is not reached, who was when it last was, or took it up since.

import { useEffect } from "preact/hooks";
import { type Me, useDoor, useMe } from "../shop/door.ts";
import { useTakenUp } from "../shop/taken-up.ts";

/** What the server has paired this device as. */
export interface Paired {
  readonly id: string;
  readonly name: string;
  readonly site: string;
  readonly own: boolean;
}

export interface Hands {
  /** Undefined: nobody's. */
  readonly me: Pick<Me, "person" | "name"> | undefined;
  readonly paired: Paired | undefined;
  /** He took it up while it was alone, and the server has not looked at his PIN yet. */
  readonly isUnproved: boolean;
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

/**
 * Without the network it stays with who had it, until another one takes it up: the server looks at it when it hears of it (docs/security.md). When the line is
 * back he who took it up has it still, whoever the server remembers from before.
 */
export const useHands = (): Hands => {
  const door = useDoor();
  const asked = useMe();
  const taken = useTakenUp();
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
  const kept = isKnown ? { me: asked, paired } : keptHands();
  if (taken !== undefined) return { ...kept, me: taken, isUnproved: true, isKept: true, isLoading: false };
  return { ...kept, isUnproved: false, isKept: !isKnown, isLoading: !isKnown && door.isLoading };
};
