// Owns going from bar to bar by keys: along a person's row, and to the nearest in time of the next row. One bar at a time is in the tab order.

import type { Bar } from "./layout.ts";

const middle = ({ doing }: Bar): number => (doing.start + doing.free) / 2;

/** The bar that a key leads to; undefined where it leads nowhere. */
export const nextBar = (bars: readonly Bar[], people: readonly string[], from: Bar, key: string): Bar | undefined => {
  const row = bars.filter(({ person }) => person === from.person);
  const place = row.indexOf(from);
  switch (key) {
    case "ArrowLeft":
      return row[place - 1];
    case "ArrowRight":
      return row[place + 1];
    case "Home":
      return row[0];
    case "End":
      return row.at(-1);
    case "ArrowUp":
    case "ArrowDown": {
      const step = key === "ArrowUp" ? -1 : 1;
      for (let at = people.indexOf(from.person) + step; people[at] !== undefined; at += step) {
        const other = bars.filter(({ person }) => person === people[at]);
        if (other.length === 0) continue;
        return other.reduce((nearest, one) =>
          Math.abs(middle(one) - middle(from)) < Math.abs(middle(nearest) - middle(from)) ? one : nearest,
        );
      }
      return undefined;
    }
    default:
      return undefined;
  }
};
