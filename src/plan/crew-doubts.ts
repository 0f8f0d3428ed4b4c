// Owns what of a crew file is legal but dubious for a vehicle: skills and tools that its file does not have, written almost as ones that it has.

import { indexWords, type Vehicle } from "../vehicle/index.ts";
import type { Crew } from "./crew.ts";
import { toolsOf } from "./order.ts";

/** A word of the crew file, and the one of the vehicle file that was likely meant. */
interface CrewDoubt {
  readonly kind: "skill" | "tool";
  readonly word: string;
  readonly nearest: string;
}

const skillsOf = (vehicle: Vehicle): readonly string[] =>
  [
    ...vehicle.connections.flatMap(({ ways, refit }) => [
      refit.skill,
      ...ways.flatMap((way) => [way.skill, way.refit?.skill]),
    ]),
    ...vehicle.tasks.map((task) => task.skill),
    ...vehicle.jobs.flatMap(({ work }) => work.map(({ skill }) => skill)),
  ].flatMap((skill) => (skill === undefined ? [] : [skill]));

/** A word that the vehicle file does not have and that is near to none of it is for another vehicle, and no doubt. */
export const crewDoubts = (vehicle: Vehicle, crew: Crew): readonly CrewDoubt[] => {
  const near = (kind: CrewDoubt["kind"], words: Iterable<string>, known: readonly string[]): readonly CrewDoubt[] => {
    const all = new Set(known);
    const nearest = indexWords([...all]);
    return [...new Set(words)].flatMap((word) => {
      const found = all.has(word) ? undefined : nearest(word);
      return found === undefined ? [] : [{ kind, word, nearest: found }];
    });
  };
  return [
    ...near(
      "skill",
      crew.people.flatMap(({ skills }) => skills),
      skillsOf(vehicle),
    ),
    ...near("tool", crew.tools.keys(), toolsOf(vehicle)),
  ];
};
