// Owns the words of the board on the wall, in German.

import type { Words } from "../said.ts";

export const board: Words["board"] = {
  title: "Alle Läufe",
  loose: "gelöst",
  made: "wieder gefügt",
  blocks: "Was aufhält",
  nothing: "Es ist nichts bekannt, was aufhält.",
  contradiction: (n) => (n === 1 ? "1 Widerspruch" : `${n} Widersprüche`),
  finding: (n) => (n === 1 ? "1 offener Befund" : `${n} offene Befunde`),
  gate: (gate, n, first) => `${gate}: ${n} fehlen, zuerst ${first}`,
  next: "Als Nächstes",
  done: (half, most) => `fertig um ${half}, in neun von zehn Fällen um ${most}`,
  left: (left) => `noch ${left} Arbeit`,
  reckoning: "wird gerechnet …",
  how: "Fertig: der Auftrag simuliert, verkürzt um die getane Arbeit.",
  half: "fertig, 5 von 10",
  most: "fertig, 9 von 10",
  pages: "Seiten",
  back: "Eine Seite zurück",
  on: "Eine Seite weiter",
  page: (page, count) => `Seite ${page} von ${count}`,
  stop: "Nicht mehr blättern (Leertaste)",
  goOn: "Selbst blättern (Leertaste)",
  none: "Kein Lauf ist im Gange.",
  noneMend: "Ein Lauf steht hier, sobald er begonnen ist.",
  away: (time) => `Keine Verbindung zum Server. So stand es um ${time}.`,
  dark: "Dunkel",
  light: "Hell",
};
