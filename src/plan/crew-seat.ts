// Owns the seats of a work when some of its people are given: a person is a skill that nobody else has.

import type { Seat } from "../crew/index.ts";

interface Given {
  readonly id: string;
  readonly skills: readonly string[];
}

/** The skill of being this person. */
export const privately = (person: string): string => `is:${person}`;

/** The seats with these persons in them; where they do not fit, the skill that is missing, or none where there are too many. */
export const seated = (
  seats: readonly Seat[],
  persons: readonly Given[],
): { readonly seats: readonly Seat[] } | { readonly skill?: string } => {
  const room = seats.reduce((sum, { count }) => sum + count, 0);
  if (persons.length > room) return {};
  const asked = seats.find(({ skill }) => skill !== undefined);
  // The one who is able takes the seat that asks for it; whoever helps is left to choose.
  const lead = persons.find(({ skills }) => asked?.skill !== undefined && skills.includes(asked.skill));
  const led = Math.max(0, (asked?.count ?? 0) - (lead === undefined ? 0 : 1));
  const free = room - led - persons.length;
  if (free < 0) return asked?.skill === undefined ? {} : { skill: asked.skill };
  return {
    seats: [
      ...(asked === undefined || led === 0 ? [] : [{ ...asked, count: led }]),
      ...persons.map(({ id }) => ({ count: 1, skill: privately(id) })),
      ...(free === 0 ? [] : [{ count: free }]),
    ],
  };
};
