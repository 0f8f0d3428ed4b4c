// Owns the people of the shop as the server has them: who there is, what each may do where, and the changes that a foreman makes.

import { useQuery } from "@tanstack/preact-query";
import { call } from "../shop/calls.ts";
import { type Me, useMe } from "../shop/door.ts";

export type SecretState = "none" | "start" | "own";
export type Secret = "pin" | "password";

/** What a foreman changes of somebody. */
export interface Change {
  readonly name: string;
  readonly skills: readonly string[];
  /** Roles by site. */
  readonly sites: Readonly<Record<string, readonly string[]>>;
  readonly steward: boolean;
}

export interface Member extends Change {
  readonly person: string;
  readonly password: SecretState;
  readonly pin: SecretState;
  /** Until when wrong tries have shut it. */
  readonly passwordShut: number | null;
  readonly pinShut: number | null;
}

/** Somebody in the list; to who is foreman of nobody the names, roles and skills of his sites are shown and nothing else. */
export type Listed = Omit<Member, "password" | "pin" | "passwordShut" | "pinShut" | "steward"> & Partial<Member>;

export const foremanAt = (me: Me): readonly string[] =>
  Object.entries(me.sites).flatMap(([site, roles]) => (roles.includes("foreman") ? [site] : []));

export const governs = (me: Me): boolean => me.steward || foremanAt(me).length > 0;

const pages = async <T>(path: string): Promise<readonly T[]> => {
  const found: T[] = [];
  let after: string | undefined;
  do {
    const behind = after === undefined ? "" : `&after=${encodeURIComponent(after)}`;
    const { body } = await call<{ readonly people: readonly T[]; readonly next?: string }>(
      "GET",
      `${path}?limit=200${behind}`,
    );
    found.push(...body.people);
    after = body.next;
  } while (after !== undefined);
  return found;
};

interface OfSite {
  readonly person: string;
  readonly name: string;
  readonly roles: readonly string[];
  readonly skills: readonly string[];
}

/** Those of one's own sites, by what a colleague is shown. */
const colleagues = async (sites: readonly string[]): Promise<readonly Listed[]> => {
  const found = new Map<string, Listed>();
  for (const site of sites)
    for (const { person, name, roles, skills } of await pages<OfSite>(`/sites/${encodeURIComponent(site)}/people`))
      found.set(person, { person, name, skills, sites: { ...found.get(person)?.sites, [site]: roles } });
  return [...found.values()];
};

export const useMembers = () => {
  const me = useMe();
  return useQuery({
    queryKey: ["people", "all", me?.session],
    queryFn: async (): Promise<readonly Listed[]> => {
      if (me === undefined) return [];
      const all = governs(me) ? await pages<Member>("/people") : await colleagues(Object.keys(me.sites));
      return [...all].sort((a, b) => a.name.localeCompare(b.name));
    },
    enabled: me !== undefined,
  });
};

export interface Read {
  readonly member: Member;
  /** What it is changed by. */
  readonly etag: string;
}

export const useMember = (person: string) => {
  const me = useMe();
  return useQuery({
    queryKey: ["people", "one", person],
    queryFn: async (): Promise<Read> => {
      const { body, etag = "" } = await call<Member>("GET", pathOf(person));
      return { member: body, etag };
    },
    enabled: me !== undefined,
    staleTime: 0,
  });
};

const pathOf = (person: string): string => `/people/${encodeURIComponent(person)}`;

/** @param etag of what was read; undefined for somebody new. @returns the ETag of what is kept now @throws Refusal */
export const keepMember = async (person: string, change: Change, etag: string | undefined): Promise<string> => {
  const behind: Readonly<Record<string, string>> = etag === undefined ? { "if-none-match": "*" } : { "if-match": etag };
  return (await call<Member>("PUT", pathOf(person), change, behind)).etag ?? "";
};

/** A start secret for somebody, or one's own against the old one. @throws Refusal */
export const keepSecret = async (
  person: string,
  kind: Secret,
  given: { readonly new: string; readonly pin?: string; readonly password?: string },
): Promise<void> => {
  await call("PUT", `${pathOf(person)}/${kind}`, given);
};

/** Opens what wrong tries have shut. @throws Refusal */
export const unlock = async (person: string): Promise<void> => {
  await call("POST", `${pathOf(person)}/unlock`);
};

/** "fitter, rigger" as a list, each once. */
export const skillsIn = (text: string): readonly string[] => [
  ...new Set(
    text
      .split(",")
      .map((one) => one.trim())
      .filter((one) => one !== ""),
  ),
];

/** An id out of a name: "Jörg Müller-Lüdenscheidt" is "joerg". */
export const idFrom = (name: string): string =>
  (name.trim().split(/\s+/)[0] ?? "")
    .toLowerCase()
    .replaceAll("ä", "ae")
    .replaceAll("ö", "oe")
    .replaceAll("ü", "ue")
    .replaceAll("ß", "ss")
    .normalize("NFD")
    .replaceAll(/[^a-z0-9._-]/g, "")
    .replace(/^[^a-z0-9]+/, "")
    .slice(0, 80);
