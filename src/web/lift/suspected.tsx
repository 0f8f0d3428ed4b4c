// Owns the tie chart at a trial lift: what the readings suspect is drawn whole again, with its number in the list beside and its chance.

import { useMemo } from "preact/hooks";
import type { Plan } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import type { RunStanding } from "../runs/standing.ts";
import type { Suspect } from "../ties/chart.tsx";
import { FittedChart } from "../ties/fitted.tsx";
import { aloftBetween, assembliesOf, heldBy, releasedAfter, sceneOf } from "../ties/scene.ts";
import { useWords } from "../words/words.ts";

/** What is being lifted, and how its ties stand. */
export interface Lifted {
  readonly vehicle: Vehicle;
  readonly plan: Plan;
  readonly task: string;
  /** By the entries of a run; without them as the plan has it before this lift. */
  readonly stood?: RunStanding;
}

interface SuspectedProps {
  readonly lifted: Lifted;
  readonly suspects: ReadonlyMap<string, Suspect>;
  readonly nameOf: (id: string) => string;
}

export const Suspected = ({ lifted: { vehicle, plan, task, stood }, suspects, nameOf }: SuspectedProps) => {
  const words = useWords();
  const scene = useMemo(() => {
    const assembly = assembliesOf(vehicle, plan).find(({ id }) => id === task);
    return assembly === undefined ? undefined : sceneOf(vehicle, plan, assembly);
  }, [vehicle, plan, task]);
  if (scene === undefined) return null;
  const released =
    stood === undefined
      ? releasedAfter(scene, plan, (aloftBetween(scene)?.[0] ?? 1) - 1)
      : new Set([...plan.releasedBefore, ...stood.released]);
  const { standing } = heldBy(vehicle, scene, released, stood?.verified, stood?.faulty);
  const said = [...suspects].map(([id, { rank, chance }]) => `${rank}: ${nameOf(id)}, ${chance}`).join("; ");
  return (
    <figure class="suspected">
      <figcaption>{words.lift.onChart}</figcaption>
      <FittedChart
        vehicle={vehicle}
        scene={scene}
        standing={standing}
        suspects={suspects}
        label={words.lift.suspected(scene.assembly.label, said)}
      />
    </figure>
  );
};
