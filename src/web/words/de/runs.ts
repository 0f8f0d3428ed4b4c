// Owns the words of runs and of giving an order, in German.

import type { Words } from "../said.ts";

export const runs: Words["runs"] = {
  title: "Aufträge und Läufe",
  none: "Noch ist kein Auftrag angenommen. Öffnen Sie ein Fahrzeug der Werkstatt, planen Sie einen Auftrag und geben Sie ihn.",
  state: { ordered: "nicht begonnen", running: "läuft", closed: "abgeschlossen" },
  apart: (n, of) => `${n} von ${of} gelöst,`,
  verified: (n) => `${n} nachgesehen lose`,
  back: (n) => `${n} wieder verbunden`,
  closed: "Abgeschlossen",
  next: "Als Nächstes",
  found: (n) => (n === 1 ? "Ein Befund offen" : `${n} Befunde offen`),
  asItStands: "Wie es jetzt steht",
  atPlan: "Bei einem Schritt des Plans, nicht wie es steht",
  print: "Auftragsmappe drucken",
  printHow:
    "Karten, Anhänger, Bindungsbild, Anschlagblatt, Bereitstellung, Drehmomente, Abnahme: nach dem geltenden Plan.",
  printPart: "Was",
  parts: {
    all: "die ganze Mappe",
    chart: "Bindungsbild",
    cards: "Karten nach Platz",
    lift: "Anschlagblatt",
    kit: "Bereitstellung",
    torque: "Drehmomentblatt",
    holes: "Lochkarten",
    "sign-off": "Abnahme",
    tags: "Anhänger und Beutelschilder",
  },
  printOn: { a4: "PDF, A4", letter: "PDF, US Letter" },
  asPage: "Webseite zum Vorlesen",
  ownCard: "Karte jeder Person",
  ownCardHow: "Wann, wo und welcher Schritt, nach dem Ablauf für die Leute des Auftrags, wie er gegeben wurde.",
  give: "Diesen Auftrag geben",
  giveHow: "Der Server plant ihn noch einmal, bewahrt ihn mit dieser Fassung des Fahrzeugs auf, und sein Lauf beginnt.",
  onlyKept:
    "Bewahren Sie die Fahrzeugdatei zuerst in der Werkstatt auf: ein Auftrag wird auf eine aufbewahrte Fassung gegeben.",
  onlySignedIn: "Melden Sie sich als Werkstattleiter an, um einen Auftrag zu geben.",
  name: "Heißt",
  machine: "Seriennummer der Maschine, wenn sie eine hat",
  who: "Wer daran arbeitet, nachsieht, freigibt",
  two: "Nennen Sie mindestens zwei: die zweite Person sieht nach.",
  alone: "Zu dieser Werkstatt gehört nur eine Person. Ein Werkstattleiter fügt die anderen hinzu, unter „Leute“.",
  giving: "Der Server plant ihn …",
  toRun: "Zum Lauf",
};
