// Owns what a role is called; one that this page does not know yet is called by its own word.

import type { Words } from "../words/said.ts";

export const ROLES = [
  "mechanic",
  "verifier",
  "lift approver",
  "foreman",
  "storeman",
  "instructor",
  "reader",
] as const satisfies readonly (keyof Words["people"]["roles"])[];

type Known = (typeof ROLES)[number];
const isKnown = (role: string): role is Known => ROLES.some((one) => one === role);

export const roleName = (words: Words, role: string): string => (isKnown(role) ? words.people.roles[role][0] : role);
