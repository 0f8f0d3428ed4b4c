// Owns what the ledger says of gates, refusals and warnings, as data: which phrase, and what it names. The English sentence is made of it last; other languages have phrases of their own.

import type { DamageRule } from "./verify.ts";

const and = (names: readonly string[]): string => names.join(" and ");
const or = (names: readonly string[]): string => names.join(" or ");

/** By its id each phrase in English, without its stop, of what it names. A language that has the same is complete. */
export const PHRASES = {
  releasedBy: (people: readonly string[]) =>
    `released by ${people.length === 0 ? "nobody of this run" : and(people)}; a second person looks`,
  standsAs: (state: string) => `stands as ${state}`,
  contradicts: (rule: string, key: string) => `${rule}, to be settled as ${key}`,
  toSettle: (key: string) => `to be settled as ${key}`,
  tiedBy: (chain: readonly string[]) => `tied by ${chain.join(" – ")}`,
  beforeLift: () => "comes before the lift and is not recorded",
  undoneBeforeLift: () => "must be undone before the lift",
  isThere: (person: string) => `${person} is there`,
  // Nothing was said beside the kind: it stands there once.
  finding: (what: string, text: string) => `open finding: ${what}: ${text}`.replace(/: (.+): \1$/i, ": $1"),
  notApproved: () => "nobody has approved it",
  approvedOther: (person: string, plan: string, inForce: string) =>
    `${person} approved it on the plan ${plan}; ${inForce} is in force`,
  approvedByNobodyWhoMay: (person: string) => `${person} approved it, and may not`,
  approvedUnseen: () =>
    "made where the store could not see it; it comes with the network, or the competent person gives a reason",
  noReading: (low: string, high: string) => `no reading; ${low} to ${high}`,
  noReadingNoBand: () => "no reading; no band, for a mass of the load is not known",
  readBefore: (label: string, low: string, high: string) =>
    `read before "${label}" was as it is now; ${low} to ${high}`,
  readBeforeNoBand: (label: string) =>
    `read before "${label}" was as it is now; no band, for a mass of the load is not known`,
  readAbove: (load: string, low: string, high: string) =>
    `${load} read, ${low} to ${high} with the load free: something holds it, or it is heavier than thought (unmoor trial ranks what may)`,
  readBelow: (load: string, low: string, high: string) =>
    `${load} read, ${low} to ${high} with the load free: something still bears it, or a part is missing`,
  tiesLooked: (count: number) =>
    count === 1 ? "1 connection between the load and the rest" : `${count} connections between the load and the rest`,
  partsLooked: (count: number) => (count === 1 ? "1 part of the load" : `${count} parts of the load`),
  comesFirst: () => "comes before anything else",
  shutOffBy: (label: string) => `shut off by ${label}, proved dead, key in somebody's pocket`,
  firstLooked: (count: number) => `${count} that come first`,
  energiesLooked: (count: number) => (count === 1 ? "1 energy to shut off" : `${count} energies to shut off`),
  openedLooked: (count: number) =>
    count === 1 ? "1 connection that was taken apart" : `${count} connections that were taken apart`,
  notTightened: () => "drawn up by hand and not tightened",
  hasLock: () => "it has a split pin, wire or tab",
  endsClosed: () => "its ends are still closed",
  proposal: (torque: string) =>
    `${torque} is reckoned from size and class; write the maker's figure into the vehicle file, or leave it to him in writing`,
  torqueWanted: (torque: string) => `${torque} is wanted`,
  torqueOff: (person: string, read: string, wanted: string, percent: number) =>
    `${person} read ${read}, ${wanted} is wanted, ± ${percent} % by common practice, as the file states no tolerance`,
  torqueOutside: (person: string, read: string, wanted: string, limits: string) =>
    `${person} read ${read}, ${wanted} is wanted, ${limits} by the file`,
  readAlone: (person: string) => `read by ${person} alone`,
  notCounted: (item: string, count: number) => `${item}: ${count} come out, and nobody counted`,
  countedOff: (item: string, out: number, back: number) => `${item}: ${out} out, ${back} in`,
  lookedByDoer: () => "looked at by who did it",
  lookBefore: (label: string) => `a second person looks before it is covered by: ${label}`,
  coveredBefore: (label: string) => `covered by "${label}" before anybody looked`,
  stillIn: (count: number) => `${count} still in`,
  stillInFor: (count: number, label: string) => `${count} still in, put in for ${label}`,
  notBack: (count: number) => `${count} not back`,
  liesAt: (place: string) => `lies at ${place}`,
  hangsOn: (label: string) => `hangs on ${label}`,
  cameOut: (fluids: readonly string[], amounts: readonly string[]) =>
    fluids.map((fluid, n) => `${amounts[n]} of ${fluid} came out`).join(", "),
  drains: (fluids: readonly string[]) => fluids.join(", "),
  liftedNotBack: () => "what was lifted is not back",
  notUndone: () => "not undone",
  notUndoneLast: () => "not undone: it comes last",
  cameAfter: (label: string) => `${label} came after it`,
  stillOff: () => "still off",
  onBefore: (energy: string) => `on again before ${energy}`,
  notRecordedPassed: () => "nobody has recorded that it was passed",
  workNotRecorded: () => "the job's own work is not recorded",
  testNotRecorded: () => "adjustment or test not recorded",
  readingFailed: (reading: string) => reading,
  failed: () => "failed",
  worksLooked: (count: number) => (count === 1 ? "1 piece of work" : `${count} pieces of work`),
  testsLooked: (count: number) => (count === 1 ? "1 adjustment or test" : `${count} adjustments and tests`),
  findingsLooked: (count: number) => (count === 1 ? "1 finding" : `${count} findings`),

  stranger: (person: string) => `nobody of this order is called ${person}`,
  thereAre: (people: readonly string[]) => `There are: ${people.join(", ")}.`,
  noSuchThing: (as: string, id: string) => `the vehicle file has no ${as === "any" ? "thing" : as} called ${id}`,
  seeNames: () => "See the names in the plan.",
  nearest: (id: string, label: string) => `Nearest: ${id}, ${label}.`,
  torqueDoubt: (read: string, wanted: string, fits: readonly string[]) =>
    `${read} was read and ${wanted} is wanted.${fits.length === 0 ? "" : ` Was it ${fits.join(", or ")}?`}`,
  lookAgain: () => "Look again; if it was read so, enter it with --sure.",
  didItHimself: (person: string) => `${person} did it himself`,
  secondLooks: () => "A second person looks.",
  mayNotApprove: (person: string) => `${person} may not approve this gate`,
  mayNotOverride: (person: string) => `${person} may not pass the lift gate without the store`,
  nobodyIs: (role: string) => `Nobody of this order is ${role}; name one with the order.`,
  theyMay: (people: readonly string[]) => `${or(people)} may.`,
  noContradiction: (key: string) => `no open contradiction is called ${key}`,
  nameFromRun: () => "Take its name from unmoor run.",
  mayNotGoOn: (person: string) => `${person} may not let a stopped load go on`,
  theyOrSignaller: (people: readonly string[]) => `${or(people)} may, or who signals.`,
  loadStopped: (person: string) => `the load is stopped by ${person}`,
  goesOnWhen: () => "It goes on when who may says so.",
  noLift: (lift: string) => `the plan has no lift ${lift}`,
  itHas: (lifts: readonly string[]) => `It has: ${lifts.join(", ")}.`,
  gateShut: (gate: string) => `the ${gate} gate is shut`,
  doMissing: () => "Do what is missing, then pass it.",
  noFinding: (finding: string) => `there is no finding ${finding}`,
  idFromRun: () => "Take its id from unmoor run.",
  storeConfirms: () => "only the store confirms",
  byItself: () => "It does so by itself.",
  storeReplaces: () => "only the store replaces a plan, with one that it has solved and kept",
  enterFinding: () => "Enter the finding.",

  entryIdShape: () => "the id of an entry is a UUID of version 7, in small letters",
  makeId: () => "Make one, or leave it out.",
  entryIdTaken: (id: string) => `there is another entry with the id ${id}`,
  ownEntryId: () => "Give this one an id of its own.",
  unreadable: (faults: string) => faults,
  enterAgain: () => "Enter it again.",
  ledgerDamaged: (damages: string) => `the ledger is damaged: ${damages}`,
  restoreBackup: () => "Restore a backup; no gate opens over this.",
  runClosed: () => "the run is closed",
  anotherOrder: () => "What comes after belongs to another order.",
  damage: (_rule: DamageRule, what: string) => what,
  otherStorePlan: () => "a plan that another store made; enter the finding here",

  atWorkOn: (person: string, system: string) => `${person} is at work on ${system}`,
  liftedWithoutGate: () => "lifted without its gate: nobody has passed it",
};

/** Phrases of a language, by the same ids. */
export type Phrases = typeof PHRASES;

/** Which phrase, and what it names. */
export type Phrase = { readonly [Id in keyof Phrases]: readonly [Id, ...Parameters<Phrases[Id]>] }[keyof Phrases];

export const sayPhrase = ([id, ...named]: Phrase, phrases: Phrases = PHRASES): string =>
  (phrases[id] as (...named: readonly unknown[]) => string)(...named);
