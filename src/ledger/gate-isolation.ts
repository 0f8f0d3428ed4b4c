// Owns the isolation gate: before the first release every energy is off, and what comes first is done.

import { type GateAnswer, type GateAsked, Gathering } from "./gate.ts";
import type { Ledger } from "./ledger.ts";

export const isolationGate = (ledger: Ledger, asked: GateAsked): GateAnswer => {
  const gathering = new Gathering(ledger);
  isolation(gathering);
  const { first, energies } = ledger.brief;
  return gathering.answer("isolation", asked, [
    ["firstLooked", first.length],
    ["energiesLooked", energies.length],
  ]);
};

/** What is missing of the isolation, in its order. */
export const isolation = (gathering: Gathering): void => {
  const { ledger } = gathering;
  const { brief } = ledger;
  for (const id of brief.first) {
    const joint = brief.joints.find((one) => one.id === id);
    const task = brief.tasks.find((one) => one.id === id);
    const isDone =
      joint === undefined ? ledger.task(id).state === "done" : !["tied", "loosened"].includes(ledger.joint(id).state);
    if (!isDone)
      gathering.add("I1", id, ["comesFirst"], {
        where: joint?.position ?? task?.position,
        who: gathering.able(joint?.skill ?? task?.skill),
      });
  }
  for (const { energy, by } of brief.energies)
    if (ledger.energy(energy).off === undefined)
      gathering.add("I2", energy, ["shutOffBy", gathering.label(by)], {
        where: brief.joints.find(({ id }) => id === by)?.position ?? brief.tasks.find(({ id }) => id === by)?.position,
      });
};
