// Owns who is signed in, and going in and out.

import { useQuery, useQueryClient } from "@tanstack/preact-query";
import { call } from "./calls.ts";
import { endTakenUp } from "./taken-up.ts";

export interface Door {
  /** Nobody can sign in yet. */
  readonly setup: boolean;
  readonly signedIn: boolean;
  /** This device, where it is paired; one that is nobody's own is a tablet that the site shares. */
  readonly device: {
    readonly id: string;
    readonly name: string;
    readonly site: string;
    readonly label: string;
    readonly zone: string;
    readonly own: boolean;
  } | null;
}

export interface Me {
  readonly person: string;
  readonly name: string;
  /** The id of the session. */
  readonly session: string;
  readonly by: "pin" | "password" | "passkey" | "token";
  readonly device: string | null;
  /** Milliseconds without a request after which the session is over. */
  readonly idle: number;
  readonly sites: Readonly<Record<string, readonly string[]>>;
  readonly steward: boolean;
}

export const DOOR = {
  queryKey: ["door"],
  queryFn: async () => (await call<Door>("GET", "/door")).body,
  staleTime: 60_000,
} as const;

/** Undefined while it is not known; without a server nobody is signed in. */
export const useDoor = () => useQuery(DOOR);

export const useMe = (): Me | undefined => {
  const door = useDoor();
  const me = useQuery({
    queryKey: ["me"],
    queryFn: async () => (await call<Me>("GET", "/me")).body,
    enabled: door.data?.signedIn === true,
    staleTime: 60_000,
  });
  // What is known of a session that is over is of nobody who is here.
  return door.data?.signedIn === true ? me.data : undefined;
};

/** Whether this is a tablet that many hands take up: names and PINs in place of a password. */
export const useShared = (): boolean => useDoor().data?.device?.own === false;

/** Whether somebody may keep vehicle files. */
export const keepsFiles = (me: Me | undefined): boolean =>
  me !== undefined && (me.steward || Object.values(me.sites).some((roles) => roles.includes("foreman")));

export interface SetUp {
  readonly code: string;
  readonly person: string;
  readonly name: string;
  readonly password: string;
  readonly site: string;
  readonly zone: string;
}

export interface Credentials {
  readonly person: string;
  readonly password?: string;
  readonly pin?: string;
  /** One's own, where the one given is a start secret. */
  readonly next?: string | undefined;
}

/** Each ends with what the page knows of the server asked anew. @throws Refusal */
export const useEntrance = () => {
  const queries = useQueryClient();
  const anew = () => queries.invalidateQueries({ predicate: ({ queryKey }) => queryKey[0] !== "engine" });
  return {
    anew,
    signIn: async (given: Credentials): Promise<void> => {
      await call("POST", "/sign-in", given);
      endTakenUp();
      await anew();
    },
    setUp: async (given: SetUp): Promise<void> => {
      await call("POST", "/setup", given);
      await call("POST", "/sign-in", { person: given.person, password: given.password });
      await anew();
    },
    signOut: async (): Promise<void> => {
      await call("POST", "/sign-out");
      endTakenUp();
      queries.removeQueries({ queryKey: ["me"] });
      await anew();
    },
  };
};
