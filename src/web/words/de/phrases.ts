// Owns what the ledger says of gates, refusals and warnings, in German: the same phrases by the same ids.

import type { DamageRule, Phrases } from "../../../ledger/index.ts";
import { gates } from "./gates.ts";

const and = (names: readonly string[]): string => names.join(" und ");
const or = (names: readonly string[]): string => names.join(" oder ");
const word = (words: Readonly<Record<string, string>>, id: string): string => words[id] ?? id;

/** How a connection stands. */
const STATES: Readonly<Record<string, string>> = {
  tied: "noch fest",
  loosened: "gelockert",
  released: "gelöst",
  loose: "lose",
  "in place": "angesetzt",
  snug: "handfest",
  torqued: "angezogen",
  locked: "gesichert",
  marked: "markiert",
  refitted: "gefügt",
  proved: "gefügt und geprüft",
};

/** Who may approve. */
const ROLES: Readonly<Record<string, string>> = { "lift approver": "Hubverantwortlicher", foreman: "Werkstattleiter" };

/** What the vehicle file has. */
const THINGS: Readonly<Record<string, string>> = {
  joint: "keine Verbindung",
  task: "keine Aufgabe",
  part: "kein Teil",
  position: "keinen Arbeitsplatz",
  any: "nichts",
};

/** What is not as its device has written it. */
const DAMAGES: Readonly<Record<DamageRule, string>> = {
  V1: "der Schlüssel des Geräts ist nicht bekannt, so lässt sich keine Unterschrift prüfen",
  V2: "der Schlüssel ist der eines anderen Geräts",
  V3: "das hat sein Gerät so nicht unterschrieben",
  V4: "der Eintrag davor ist nicht der, nach dem er geschrieben wurde",
  V5: "davor fehlen Einträge seines Geräts",
  V6: "sein Gerät hat einen anderen Eintrag mit dieser Nummer geschrieben",
  V7: "seine Uhr steht vor dem letzten Eintrag seines Geräts",
  V8: "ein anderer Eintrag hat dieselbe Kennung",
  V9: "er gehört zu einem anderen Lauf",
};

export const phrases: Phrases = {
  releasedBy: (who) => `gelöst von ${who.length === 0 ? "niemandem dieses Laufs" : and(who)}; eine zweite Person prüft`,
  standsAs: (state) => word(STATES, state),
  contradicts: (rule, key) => `${rule}, zu klären als ${key}`,
  toSettle: (key) => `zu klären als ${key}`,
  tiedBy: (chain) => `gehalten von ${chain.join(" – ")}`,
  beforeLift: () => "kommt vor dem Heben und ist nicht eingetragen",
  undoneBeforeLift: () => "muss vor dem Heben zurückgenommen sein",
  isThere: (person) => `${person} ist dort`,
  finding: (what, text) => {
    const kind = word(gates.kinds, what);
    return `offener Befund: ${kind}${text === kind ? "" : `: ${text}`}`;
  },
  notApproved: () => "niemand hat es freigegeben",
  approvedOther: (person, plan, inForce) => `${person} gab es nach dem Plan ${plan} frei; es gilt ${inForce}`,
  approvedByNobodyWhoMay: (person) => `${person} gab es frei und darf das nicht`,
  approvedUnseen: () =>
    "gegeben, wo der Server es nicht sehen konnte; er entscheidet, sobald er erreicht wird, oder die befähigte Person nennt einen Grund",
  noReading: (low, high) => `keine Ablesung; gewollt sind ${low} bis ${high}`,
  noReadingNoBand: () => "keine Ablesung; und kein Bereich, denn eine Masse der Last ist nicht bekannt",
  readBefore: (label, low, high) =>
    `abgelesen, bevor „${label}“ war, wie es jetzt ist; gewollt sind ${low} bis ${high}`,
  readBeforeNoBand: (label) =>
    `abgelesen, bevor „${label}“ war, wie es jetzt ist; und kein Bereich, denn eine Masse der Last ist nicht bekannt`,
  readAbove: (load, low, high) =>
    `${load} abgelesen, ${low} bis ${high}, wenn die Last frei ist: Etwas hält sie, oder sie ist schwerer als gedacht`,
  readBelow: (load, low, high) =>
    `${load} abgelesen, ${low} bis ${high}, wenn die Last frei ist: Etwas trägt sie noch, oder ein Teil fehlt`,
  tiesLooked: (count) =>
    count === 1
      ? "1 Verbindung zwischen der Last und dem Rest"
      : `${count} Verbindungen zwischen der Last und dem Rest`,
  partsLooked: (count) => (count === 1 ? "1 Teil der Last" : `${count} Teile der Last`),
  comesFirst: () => "kommt vor allem anderen",
  shutOffBy: (label) => `abgeschaltet durch: ${label}; Freiheit festgestellt, Schlüssel in jemandes Tasche`,
  firstLooked: (count) => (count === 1 ? "eines, das zuerst kommt" : `${count}, die zuerst kommen`),
  energiesLooked: (count) => (count === 1 ? "1 Energie abzuschalten" : `${count} Energien abzuschalten`),
  openedLooked: (count) =>
    count === 1 ? "1 Verbindung, die getrennt wurde" : `${count} Verbindungen, die getrennt wurden`,
  notTightened: () => "von Hand angelegt und nicht angezogen",
  hasLock: () => "sie hat Splint, Draht oder Sicherungsblech",
  endsClosed: () => "ihre Enden sind noch verschlossen",
  proposal: (torque) =>
    `${torque} ist aus Größe und Festigkeitsklasse gerechnet; tragen Sie die Angabe des Herstellers in die Fahrzeugdatei ein, oder überlassen Sie es ihm schriftlich`,
  torqueWanted: (torque) => `gewollt sind ${torque}`,
  torqueOff: (person, read, wanted, percent) =>
    `${person} las ${read} ab, gewollt sind ${wanted}, nach üblicher Praxis auf ± ${percent} %, denn die Datei nennt keine Toleranz`,
  torqueOutside: (person, read, wanted, limits) =>
    `${person} las ${read} ab, gewollt sind ${wanted}, nach der Datei ${limits}`,
  readAlone: (person) => `abgelesen von ${person} allein`,
  notCounted: (item, count) => `${item}: ${count} kommen heraus, und niemand hat gezählt`,
  countedOff: (item, out, back) => `${item}: ${out} heraus, ${back} hinein`,
  lookedByDoer: () => "geprüft von dem, der es getan hat",
  lookBefore: (label) => `eine zweite Person prüft, bevor es verdeckt wird von: ${label}`,
  coveredBefore: (label) => `verdeckt von „${label}“, bevor jemand geprüft hat`,
  stillIn: (count) => `noch ${count} darin`,
  stillInFor: (count, label) => `noch ${count} darin, eingesetzt für ${label}`,
  notBack: (count) => `${count} nicht zurück`,
  liesAt: (place) => `liegt: ${place}`,
  hangsOn: (label) => `hängt an ${label}`,
  cameOut: (fluids, amounts) => fluids.map((fluid, n) => `${amounts[n]} ${fluid} kamen heraus`).join(", "),
  drains: (fluids) => fluids.join(", "),
  liftedNotBack: () => "was gehoben wurde, ist nicht zurück",
  notUndone: () => "nicht zurückgenommen",
  notUndoneLast: () => "nicht zurückgenommen: Es kommt zuletzt",
  cameAfter: (label) => `${label} kam danach`,
  stillOff: () => "noch abgeschaltet",
  onBefore: (energy) => `wieder eingeschaltet vor ${energy}`,
  notRecordedPassed: () => "niemand hat die Freigabe eingetragen",
  workNotRecorded: () => "die eigentliche Arbeit des Auftrags ist nicht eingetragen",
  testNotRecorded: () => "Einstellung oder Prüfung nicht eingetragen",
  readingFailed: (reading) => reading,
  failed: () => "nicht bestanden",
  worksLooked: (count) => (count === 1 ? "1 Arbeit" : `${count} Arbeiten`),
  testsLooked: (count) => (count === 1 ? "1 Einstellung oder Prüfung" : `${count} Einstellungen und Prüfungen`),
  findingsLooked: (count) => (count === 1 ? "1 Befund" : `${count} Befunde`),

  stranger: (person) => `in diesem Auftrag heißt niemand ${person}`,
  thereAre: (who) => `Es gibt: ${who.join(", ")}.`,
  noSuchThing: (as, id) => `die Fahrzeugdatei hat ${word(THINGS, as)} mit dem Namen ${id}`,
  seeNames: () => "Die Namen stehen im Plan.",
  nearest: (id, label) => `Am nächsten: ${id}, ${label}.`,
  torqueDoubt: (read, wanted, fits) =>
    `${read} wurde abgelesen, gewollt sind ${wanted}.${fits.length === 0 ? "" : ` Waren es ${or(fits)}?`}`,
  lookAgain: () => "Sehen Sie noch einmal hin; wurde es so abgelesen, bestätigen Sie es.",
  didItHimself: (person) => `${person} hat es selbst getan`,
  secondLooks: () => "Eine zweite Person prüft.",
  mayNotApprove: (person) => `${person} darf das nicht freigeben`,
  mayNotOverride: (person) => `${person} darf nicht ohne den Server zum Heben freigeben`,
  nobodyIs: (role) =>
    `In diesem Auftrag hat niemand die Rolle „${word(ROLES, role)}“; nennen Sie jemanden mit dem Auftrag.`,
  theyMay: (who) => `Es darf: ${or(who)}.`,
  noContradiction: (key) => `kein offener Widerspruch heißt ${key}`,
  nameFromRun: () => "Sein Name steht beim Lauf.",
  mayNotGoOn: (person) => `${person} darf eine angehaltene Last nicht weiterlassen`,
  theyOrSignaller: (who) => `Es darf: ${or(who)}, oder wer die Zeichen gibt.`,
  loadStopped: (person) => `die Last ist angehalten von ${person}`,
  goesOnWhen: () => "Weiter geht es, wenn es sagt, wer es darf.",
  noLift: (lift) => `der Plan hat keinen Hub ${lift}`,
  itHas: (lifts) => `Er hat: ${lifts.join(", ")}.`,
  gateShut: (gate) => `„${word(gates.names, gate)}“ kann noch nicht freigegeben werden`,
  doMissing: () => "Tun Sie, was fehlt, und geben Sie es dann frei.",
  noFinding: (finding) => `es gibt keinen Befund ${finding}`,
  idFromRun: () => "Seine Kennung steht beim Lauf.",
  storeConfirms: () => "nur der Server bestätigt",
  byItself: () => "Er tut es von selbst.",
  storeReplaces: () => "nur der Server ersetzt einen Plan, durch einen, den er gelöst und behalten hat",
  enterFinding: () => "Tragen Sie den Befund ein.",

  entryIdShape: () => "die Kennung eines Eintrags ist eine UUID der Version 7 in kleinen Buchstaben",
  makeId: () => "Machen Sie eine, oder lassen Sie sie weg.",
  entryIdTaken: (id) => `es gibt einen anderen Eintrag mit der Kennung ${id}`,
  ownEntryId: () => "Geben Sie diesem eine eigene.",
  unreadable: (faults) => `das lässt sich so nicht lesen: ${faults}`,
  enterAgain: () => "Tragen Sie es noch einmal ein.",
  ledgerDamaged: (damages) => `die Aufzeichnung ist beschädigt: ${damages}`,
  restoreBackup: () => "Spielen Sie eine Sicherung zurück; so wird nichts freigegeben.",
  runClosed: () => "der Lauf ist abgeschlossen",
  anotherOrder: () => "Was danach kommt, gehört zu einem anderen Auftrag.",
  damage: (rule) => DAMAGES[rule],
  otherStorePlan: () => "ein Plan, den ein anderer Server gemacht hat; tragen Sie den Befund hier ein",

  atWorkOn: (person, system) => `${person} arbeitet an ${system}`,
  liftedWithoutGate: () => "gehoben ohne Freigabe: Niemand hat sie erteilt",
};
