// Owns when each of a crew is there: the same shift and breaks every day, as spells of minutes from the beginning of the order.

import type { Spell } from "../crew/index.ts";
import type { Crew, CrewPerson, Span } from "./crew.ts";

const DAY = 24 * 60;
/** Nobody plans further. */
const MOST_DAYS = 60;

const less = (spells: readonly Span[], away: Span): readonly Span[] =>
  spells.flatMap(({ from, until }) => {
    if (away.until <= from || away.from >= until) return [{ from, until }];
    return [
      { from, until: away.from },
      { from: away.until, until },
    ].filter((one) => one.until > one.from);
  });

/** Minutes of presence in a day. */
const dayOf = ({ days }: CrewPerson): number =>
  days === undefined ? DAY : presence(days.shift, days.breaks).reduce((sum, one) => sum + one.until - one.from, 0);

const presence = (shift: Span, breaks: readonly Span[]): readonly Span[] =>
  breaks
    // A break after midnight belongs to a night shift.
    .flatMap((away) => [away, { from: away.from + DAY, until: away.until + DAY }])
    .reduce((spells, away) => less(spells, away), [shift] as readonly Span[]);

/** Days that the work cannot outlast, done by whoever is there least, one step after the other. */
const daysFor = (crew: Crew, work: number): number => {
  const shortest = Math.min(...crew.people.map(dayOf));
  return shortest > 0 ? Math.min(MOST_DAYS, Math.ceil(work / shortest) + 2) : MOST_DAYS;
};

/**
 * The spells of a person, rising, from minute 0 on; undefined for who is always there.
 *
 * @param work minutes of the whole job, one step after the other.
 */
export const spellsOf = (crew: Crew, person: CrewPerson, work: number): readonly Spell[] | undefined => {
  const { days } = person;
  if (days === undefined) return undefined;
  const spells: Spell[] = [];
  for (let day = -1; day < daysFor(crew, work); day += 1)
    for (const { from, until } of presence(days.shift, days.breaks)) {
      const shift = day * DAY - (crew.begins ?? 0);
      const last = spells.at(-1);
      const spell = { from: Math.max(0, from + shift), until: until + shift };
      if (spell.until <= spell.from) continue;
      // A shift of a whole day goes on into the next.
      if (last !== undefined && last.until >= spell.from)
        spells[spells.length - 1] = { from: last.from, until: spell.until };
      else spells.push(spell);
    }
  return spells;
};
