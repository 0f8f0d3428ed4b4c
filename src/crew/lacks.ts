// Owns what is ill-posed in a question, or can be seen not to be possible, before any search; all of it at once.

import { unable } from "./lacks-crew.ts";
import { figures, spells, twice, unknown, ways } from "./lacks-figures.ts";
import { apartFromItself, atOdds, begunAgainst, circles, neededOf } from "./lacks-order.ts";
import type { Problem } from "./problem.ts";
import type { Lack } from "./result.ts";

/**
 * Everything that keeps the question from having an answer and can be told without looking for one. What it does not find may still be a contradiction. While a figure is
 * none, or an id is there twice, nothing is said of what these figures and ids lead to.
 */
export const lacksOf = (problem: Problem): readonly Lack[] => {
  const data = [...twice(problem), ...figures(problem), ...spells(problem), ...ways(problem)];
  const odd = [...data, ...unknown(problem), ...atOdds(problem)];
  if (data.length > 0) return odd;
  return [
    ...odd,
    ...unable(problem, neededOf(problem)),
    ...circles(problem),
    ...begunAgainst(problem),
    ...apartFromItself(problem),
  ];
};
