// Owns the words of the door in German: the names at a tablet, the PIN, passwords, what is said when the server is away.

import type { Words } from "../said.ts";
import { phrases } from "./phrases.ts";
import { refusals } from "./refusals.ts";

const SAYINGS: Readonly<Record<string, unknown>> = { ...phrases, ...refusals };

export const door: Words["door"] = {
  said: (text, phrase) => {
    // One that a newer server knows and this page does not stays as it came.
    const [id, ...named] = phrase ?? [""];
    const say = SAYINGS[id] as ((...named: readonly unknown[]) => string) | undefined;
    return say === undefined ? text : say(...named);
  },
  answered: (status) => `Der Server antwortete mit ${status}.`,
  moment: "Einen Augenblick …",
  needsServer: "Diese Seite braucht den Server, und er ist gerade nicht erreichbar.",
  needsServerMend: "Was auf diesem Gerät ist, geht weiter. Versuchen Sie es wieder, wenn die Verbindung zurück ist.",
  handOver: "Übergeben",
  handOverWhy: "Meldet Sie ab: für den Nächsten stehen die Namen da.",
  cannotLeave: "Der Server ist nicht da: noch angemeldet. Noch einmal",
  people: "Leute",
  device: "Dieses Gerät",
  account: "Ihr Konto",
  signedInAs: "Angemeldet",
  pressed: "Gedrückt halten oder zweimal drücken",
  keepPressed: "gedrückt halten",
  oncePressed: "noch einmal drücken",
  nav: "Die Tür der Werkstatt",

  who: "Wer ist es?",
  whoLead: "Tippen Sie auf Ihren Namen, dann Ihre PIN.",
  all: "Alle",
  initials: "Namen, die beginnen mit",
  nobody: "Von diesem Standort kann sich hier noch niemand anmelden.",
  nobodyMend:
    "Ein Werkstattleiter fügt Leute hinzu und gibt jedem eine Start-PIN: mit Passwort anmelden, dann „Leute“.",
  byPassword: "Mit Passwort",
  names: "Zurück zu den Namen",
  anotherName: "Jemand anders",

  pinOf: (name) => `PIN von ${name}`,
  pinHelp: "4 bis 8 Ziffern, dann Eingabe",
  keys: "Tasten für die PIN",
  back: "Löschen",
  backKey: "Letzte Ziffer: löschen",
  enter: "Eingabe",
  wrongPin: "Name und PIN passen nicht zusammen.",
  wrongPinMend: "Tippen Sie sie noch einmal. Nach fünf falschen müssen Sie warten.",
  wait: (until) => `Zu viele falsche. Gesperrt bis ${until}; ein Werkstattleiter kann vorher öffnen.`,
  waitStill: (seconds) => `${seconds} s`,
  shutForGood: "Zu viele falsche. Ein Werkstattleiter öffnet es, unter „Leute“.",
  chooseOwn: "Das war Ihre Start-PIN. Wählen Sie eine eigene.",
  chooseOwnHelp: "4 bis 8 Ziffern, nicht der Reihe nach, nicht immer dieselbe.",
  newPin: "Neue PIN",
  onceMore: "Dieselbe noch einmal.",
  notTheSame: "Die beiden waren nicht gleich. Wählen Sie noch einmal.",

  passkey: "Mit Passkey",
  noPasskey: "der Browser gab keinen Passkey heraus",
  noPasskeyMend: "Versuchen Sie es noch einmal, oder melden Sie sich mit Passwort an.",
  chooseOwnPassword: "Das war Ihr Startpasswort. Wählen Sie ein eigenes: mindestens zehn Zeichen.",
};
