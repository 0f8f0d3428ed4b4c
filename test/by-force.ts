// Owns what is at stake with an answer by brute force: the vehicle of every answer, made here by other means, and searched by itself.

import { type Answer, type Doubt, orderFor, translate } from "../src/plan/index.ts";
import { kilograms, minutes } from "../src/quantity/index.ts";
import { solve } from "../src/release/index.ts";
import type { Vehicle } from "../src/vehicle/index.ts";

const answered = (file: Vehicle, answer: Answer): Vehicle => {
  if ("vehicle" in answer) return answer.vehicle;
  const copy = structuredClone(file) as Vehicle;
  const steps = [...copy.tasks, ...copy.connections.flatMap(({ ways }) => ways)];
  if ("mass" in answer) {
    const mass = kilograms(answer.mass);
    for (const one of copy.parts)
      if (one.id === answer.part) Object.assign(one, { mass: { low: mass, nominal: mass, high: mass } });
  } else
    for (const step of steps)
      if (step.id === answer.step)
        Object.assign(
          step,
          "minutes" in answer
            ? { time: minutes(answer.minutes) }
            : { needs: step.needs.filter((need) => !("id" in need && need.id === answer.without)) },
        );
  return copy;
};

const leastOf = (file: Vehicle, id: string): number =>
  solve(translate(file, orderFor(id)).problem).plan?.labour ?? Number.POSITIVE_INFINITY;

/** Swing and whether it decides the plan, over all jobs, each answer searched by itself. */
export const byForce = (file: Vehicle, { answers }: Doubt) => {
  const of = file.jobs.map(({ id }) => {
    const all = [file, ...answers.map((answer) => answered(file, answer))].map((one) => leastOf(one, id));
    const some = all.filter(Number.isFinite);
    return {
      swing: some.length === 0 ? 0 : Math.max(...some) - Math.min(...some),
      decidesPlan: some.length > 0 && some.length < all.length,
    };
  });
  return { swing: Math.max(...of.map(({ swing }) => swing)), decidesPlan: of.some((one) => one.decidesPlan) };
};
