// Owns what the checker asks of places and things: C6 room, C7 positions that must be empty, C8 stocks.

import { before, type Laid, meet, type Scene } from "./check-fault.ts";

/** Something taken for a while. */
interface Taken<T> {
  readonly from: number;
  readonly until: number;
  readonly count: number;
  readonly by: T;
}

/** The first minute at which more is taken than there is, and by whom. Takings only grow where one begins, so only these minutes are looked at. */
const overdrawn = <T>(
  takings: readonly Taken<T>[],
  count: number,
): { minute: number; taken: number; by: readonly T[] } | undefined => {
  const long = takings.filter(({ from, until }) => before(from, until)).sort((a, b) => a.from - b.from);
  for (const { from } of long) {
    const now = long.filter((one) => !before(from, one.from) && before(from, one.until));
    const taken = now.reduce((sum, one) => sum + one.count, 0);
    if (taken > count) return { minute: from, taken, by: now.map(({ by }) => by) };
  }
  return undefined;
};

/** C6. */
export const checkRoom = ({ problem, works, fault }: Scene): void => {
  for (const { id, room } of problem.positions) {
    const there = works.filter(({ work }) => work.position === id);
    const over = overdrawn(
      there.map((laid) => ({ from: laid.start, until: laid.free, count: laid.people.length, by: laid })),
      room,
    );
    if (over === undefined) continue;
    const names = over.by.map(({ name }) => name);
    fault("C6", over.minute, { kind: "crowded", position: id, works: names, people: over.taken, room });
  }
};

/** C7. */
export const checkEmpty = ({ works, fault }: Scene): void => {
  for (const emptier of works)
    for (const position of emptier.work.empties)
      for (const laid of works)
        if (
          laid.work.position === position &&
          laid.people.length > 0 &&
          meet(emptier.start, emptier.end, laid.start, laid.free)
        )
          fault("C7", Math.max(emptier.start, laid.start), {
            kind: "not empty",
            position,
            of: emptier.name,
            with: laid.name,
          });
};

/** C8. */
export const checkStocks = ({ problem, works, fault }: Scene): void => {
  const laidOf = (id: string): Laid | undefined => works.find(({ task }) => task?.id === id);
  type By = Laid | readonly [string, string];
  for (const { id, count } of problem.stocks) {
    const used = works.flatMap((laid): readonly Taken<By>[] =>
      laid.work.uses
        .filter(({ stock }) => stock === id)
        .map((use) => ({ from: laid.start, until: laid.end, count: use.count, by: laid })),
    );
    const held = problem.holds.flatMap((hold): readonly Taken<By>[] => {
      const [first, last] = [laidOf(hold.from), laidOf(hold.until)];
      if (hold.stock !== id || first === undefined || last === undefined) return [];
      return [{ from: first.start, until: last.end, count: hold.count, by: [hold.from, hold.until] }];
    });
    const over = overdrawn([...used, ...held], count);
    if (over === undefined) continue;
    fault("C8", over.minute, {
      kind: "overdrawn",
      stock: id,
      taken: over.taken,
      count,
      works: over.by.flatMap((by) => ("name" in by ? [by.name] : [])),
      holds: over.by.flatMap((by) => ("name" in by ? [] : [by])),
    });
  }
};
