// Owns the words for what an order lacks.

import type { Lack } from "./question.ts";

/** What an order lacks for a step, in words. */
export const sayLack = (lack: Lack): string => {
  switch (lack.lack) {
    case "tool":
      return `no ${lack.tool}`;
    case "skill":
      return `nobody with the skill ${lack.skill}`;
    case "people":
      return `${lack.wanted} people wanted, ${lack.have} there`;
    case "reach": {
      const spans = lack.hoists.map(({ id, from, to }) => `${id} from ${from} m to ${to} m`);
      return `no hoist has a figure at ${lack.reach} m (${spans.join(", ")})`;
    }
  }
};
