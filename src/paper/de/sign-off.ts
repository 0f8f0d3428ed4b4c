// Owns the words of the sign-off page, in German.

import type { Words } from "../said.ts";

export const signOff: Words["signOff"] = {
  title: "Abnahme",
  intro:
    "Ein Tor geht auf, wenn alles darunter abgehakt ist und die zuständige Person unterschrieben hat. Niemand unterschreibt für einen anderen.",
  gates: {
    isolation: "Freischalten",
    lift: "Tor vor dem Hub",
    "start-up": "Tor vor dem Anlassen",
    "hand-over": "Tor vor der Übergabe",
  },
  needs: {
    isolation: (energies) => [
      `abgeschaltet, abgeschlossen, und der Schlüssel bei einer benannten Person: ${energies}`,
      "versucht: es läuft nicht an; gemessen, wo jemand dazu befugt ist",
    ],
    lift: (ties, positions, findings) => [
      `alle ${ties} Bindungen gelöst, jede von einer zweiten Person gesehen (Bindungsbild)`,
      findings,
      "Anschlag von der befähigten Person freigegeben (Anschlagblatt)",
      `Plätze leer: ${positions}`,
      "Probehub: Ablesung in ihrem Bereich (Anschlagblatt)",
    ],
    "start-up": (refits, torques, fluids, last) => [
      `alle ${refits} gelösten Verbindungen wieder hergestellt (Karten)`,
      `alle ${torques} Drehmomente eingetragen und in der Toleranz (Drehmomentblatt)`,
      `Flüssigkeiten eingefüllt: ${fluids}`,
      "jeder Beutel ebenso hinein wie heraus gezählt; nichts nur für die Arbeit Eingesetztes ist noch drin (Bereitstellung)",
      "jeder letzte Blick durch eine zweite Person getan (Karten)",
      `zuallerletzt: ${last}`,
    ],
    "hand-over": (tests) => [
      `Einstellungen und Prüfungen bestanden: ${tests}`,
      "jeder Befund erledigt oder unten schriftlich übergeben",
      "Werkzeug und Leute weg vom Fahrzeug",
    ],
  },
  noFindings: "kein offener Befund betrifft ihn",
  nothing: "nichts",
  findings: "Schriftlich übergebene Befunde",
  finding: "Befund",
  where: "Wo",
  what: "Was noch zu tun ist, und durch wen",
  signs: "unterschreibt",
};
