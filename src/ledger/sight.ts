// Owns who sees what: of a torque that two people read without each other, nobody sees the other's figure before his own is in.

import type { Entry } from "./entry.ts";
import type { TorqueReading } from "./joint.ts";
import type { Ledger } from "./ledger.ts";

/** The readings of a joint's torque that a person may see now. */
export const torquesFor = (ledger: Ledger, id: string, person: string): readonly TorqueReading[] => {
  const { torques } = ledger.joint(id);
  const brief = ledger.brief.joints.find((one) => one.id === id);
  const isOpen = brief?.critical !== true || new Set(torques.map(({ author }) => author)).size > 1;
  return isOpen ? torques : torques.filter(({ author }) => author === person);
};

/** Whether an entry's figure must be kept from a person as yet. */
export const isHidden = (ledger: Ledger, { id, body }: Entry, person: string): boolean =>
  (body.kind === "torqued" || body.kind === "torque value") &&
  ledger.joint(body.at).torques.some(({ entry }) => entry === id) &&
  !torquesFor(ledger, body.at, person).some(({ entry }) => entry === id);
