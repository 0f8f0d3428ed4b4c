// Owns the asking of gates: each by its name.

import type { GateAnswer, GateAsked, GateName } from "./gate.ts";
import { handOverGate } from "./gate-hand-over.ts";
import { isolationGate } from "./gate-isolation.ts";
import { liftGate } from "./gate-lift.ts";
import { startGate } from "./gate-start.ts";
import type { Ledger } from "./ledger.ts";

/**
 * What a gate answers; of the lift gate one answer for each lift of the plan, or for the one named.
 *
 * @param asked whether it is the store that sees everything who asks: else an open gate is provisional.
 */
export const askGate = (ledger: Ledger, gate: GateName, asked: GateAsked, lift?: string): readonly GateAnswer[] => {
  switch (gate) {
    case "isolation":
      return [isolationGate(ledger, asked)];
    case "lift":
      return ledger.brief.lifts
        .filter(({ task }) => lift === undefined || task === lift)
        .map((one) => liftGate(ledger, one, asked));
    case "start-up":
      return [startGate(ledger, asked)];
    case "hand-over":
      return [handOverGate(ledger, asked)];
  }
};
