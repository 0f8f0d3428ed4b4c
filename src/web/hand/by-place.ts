// Owns the putting together of things by the position that they are worked on from, in the order in which they come.

/** @param placeOf what the position is called */
export const byPlace = <T>(
  things: readonly T[],
  placeOf: (thing: T) => string,
): readonly (readonly [string, readonly T[]])[] => {
  const places = new Map<string, T[]>();
  for (const thing of things) {
    const place = placeOf(thing);
    const there = places.get(place);
    if (there === undefined) places.set(place, [thing]);
    else there.push(thing);
  }
  return [...places];
};
