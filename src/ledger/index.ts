// The door of the ledger: entries and their proof, how everything stands by them, and the gates.

export { type Act, actsOf, type GateAct, type StepActs } from "./acts.ts";
export { amend } from "./amend.ts";
export { ledgerBefore, wrongPasses } from "./audit.ts";
export { type BodyReading, isEntryId, readBody } from "./body.ts";
export {
  type Brief,
  type BriefAsked,
  type BriefJoint,
  type BriefLift,
  type BriefPerson,
  type BriefStep,
  type BriefTorque,
  briefOf,
  ROLES,
  type Role,
  type Where,
} from "./brief.ts";
export { hashOf, writeCanonical } from "./canonical.ts";
export { crewStanding } from "./crew-standing.ts";
export { compareEntries, type Entry, readEntry, type Told } from "./entry.ts";
export { type Fault, sentence } from "./fault.ts";
export type { Finding } from "./finding.ts";
export { foresee } from "./foresee.ts";
export {
  GATE_RULES,
  GATES,
  type GateAnswer,
  type GateName,
  type GateRule,
  type Missing,
} from "./gate.ts";
export { askGate } from "./gates.ts";
export { knownTo, ledgerAt } from "./history.ts";
export type { Joint } from "./joint.ts";
export { JOINT_STATES, JOINT_TABLE, type JointState } from "./joint-table.ts";
export { type Body, type BodyOf, isKind, KINDS, type Kind } from "./kinds.ts";
export { Ledger } from "./ledger.ts";
export { lessonLines } from "./lesson-lines.ts";
export { type Lesson, lessonsOf } from "./lessons.ts";
export { type Difference, type MachineRecord, recordAfter } from "./machine.ts";
export { Names } from "./names.ts";
export { isPairingSigned, signPairing } from "./pairing.ts";
export {
  deviceOf,
  type Identity,
  makeEntryId,
  makeIdentity,
  momentOfId,
  type Pen,
  type Signer,
  see,
  takePen,
  write,
} from "./pen.ts";
export { PHRASES, type Phrase, type Phrases, sayPhrase } from "./phrase.ts";
export { planName } from "./plan-name.ts";
export { type Progress, progressOf, type StepStanding } from "./progress.ts";
export { type Refusal, refusalOf, refuse, warningsOf } from "./refusal.ts";
export { type Replan, replanRun, type StepChange } from "./replan.ts";
export { type Rest, type RestAsked, restOf } from "./rest.ts";
export { type Contradiction, RULES, type RuleId } from "./rules.ts";
export { RULES_IN_GERMAN } from "./rules-german.ts";
export { type RunFault, type RunHead, type RunReading, readRun, writeRun } from "./run-file.ts";
export { Sayings } from "./sayings.ts";
export { SEAL, type SealedFor, type Subtle, seal, sealedFor } from "./seal.ts";
export { shareOut, sharesOf } from "./share.ts";
export { type ShiftJoint, type ShiftPage, shiftPage } from "./shift.ts";
export { isHidden, torquesFor } from "./sight.ts";
export { mayEnd, stopIn, stopOf } from "./stop.ts";
export { doubtTorque, type TorqueDoubt } from "./torque-doubt.ts";
export { type Damage, type DamageRule, type Verifier, verifyEntries } from "./verify.ts";
