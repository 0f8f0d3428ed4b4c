// Owns who is signed in, and going in and out.

import { useQuery, useQueryClient } from "@tanstack/preact-query";
import { call } from "./calls.ts";

export interface Door {
  /** Nobody can sign in yet. */
  readonly setup: boolean;
  readonly signedIn: boolean;
}

export interface Me {
  readonly person: string;
  readonly name: string;
  readonly sites: Readonly<Record<string, readonly string[]>>;
  readonly steward: boolean;
}

/** Undefined while it is not known; without a server nobody is signed in. */
export const useDoor = () =>
  useQuery({ queryKey: ["door"], queryFn: async () => (await call<Door>("GET", "/door")).body, staleTime: 60_000 });

export const useMe = (): Me | undefined => {
  const door = useDoor();
  return useQuery({
    queryKey: ["me"],
    queryFn: async () => (await call<Me>("GET", "/me")).body,
    enabled: door.data?.signedIn === true,
    staleTime: 60_000,
  }).data;
};

/** Whether somebody may keep vehicle files. */
export const keepsFiles = (me: Me | undefined): boolean =>
  me !== undefined && (me.steward || Object.values(me.sites).some((roles) => roles.includes("foreman")));

export interface SetUp {
  readonly code: string;
  readonly person: string;
  readonly name: string;
  readonly password: string;
  readonly site: string;
}

/** Each ends with what the page knows of the server asked anew. @throws Refusal */
export const useEntrance = () => {
  const queries = useQueryClient();
  const anew = () => queries.invalidateQueries({ predicate: ({ queryKey }) => queryKey[0] !== "engine" });
  return {
    signIn: async (person: string, password: string, next?: string): Promise<void> => {
      await call("POST", "/sign-in", { person, password, ...(next === undefined ? {} : { next }) });
      await anew();
    },
    setUp: async (given: SetUp): Promise<void> => {
      await call("POST", "/setup", given);
      await call("POST", "/sign-in", { person: given.person, password: given.password });
      await anew();
    },
    signOut: async (): Promise<void> => {
      await call("POST", "/sign-out");
      queries.removeQueries({ queryKey: ["me"] });
      await anew();
    },
  };
};
