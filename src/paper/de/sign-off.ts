// Owns the words of the sign-off page, in German.

import type { Words } from "../said.ts";

export const signOff: Words["signOff"] = {
  title: "Abnahme",
  intro:
    "Eine Freigabe gilt, wenn alles darunter abgehakt ist und die zuständige Person unterschrieben hat. Niemand unterschreibt für einen anderen.",
  gates: {
    isolation: "Freischalten",
    lift: "Freigabe zum Heben",
    "start-up": "Freigabe zur Inbetriebnahme",
    "hand-over": "Freigabe zur Übergabe",
  },
  needs: {
    isolation: (energies) => [
      `abgeschaltet, abgeschlossen, und der Schlüssel bei einer benannten Person: ${energies}`,
      "versucht: es läuft nicht an; wo die Spannung gefährlich ist, von einer befugten Person spannungsfrei gemessen",
    ],
    lift: (ties, positions) => [
      `alle ${ties} Bindungen gelöst, jede von einer zweiten Person gesehen (Bindungsbild)`,
      "kein offener Befund betrifft den Hub",
      "Anschlag von der befähigten Person freigegeben (Anschlagblatt)",
      ...(positions.length === 0 ? [] : [`niemand hier: ${positions.join("; ")}`]),
      "Probehub: Ablesung in ihrem Bereich (Anschlagblatt)",
    ],
    "start-up": ({ refits, torques, fluids, bags, looks, last }) => [
      ...(refits === 0 ? [] : [`alle ${refits} gelösten Verbindungen wieder hergestellt (Karten)`]),
      ...(torques === 0 ? [] : [`alle ${torques} Drehmomente eingetragen und in der Toleranz (Drehmomentblatt)`]),
      ...(fluids.length === 0 ? [] : [`Flüssigkeiten eingefüllt: ${fluids.join(", ")}`]),
      ...(bags
        ? [
            "jeder Beutel geht auf, so viele Teile hinein wie heraus; nichts, was nur für die Arbeit eingesetzt war, ist noch drin (Bereitstellung)",
          ]
        : []),
      ...(looks ? ["jeder letzte Blick durch eine zweite Person getan (Karten)"] : []),
      ...(last.length === 0 ? [] : [`zuletzt wieder eingeschaltet, in dieser Folge: ${last.join("; ")}`]),
      "Werkzeug und Leute weg von allem, was anläuft oder sich bewegt; alle unterrichtet",
    ],
    "hand-over": (tests) => [
      ...(tests.length === 0 ? [] : [`Einstellungen und Prüfungen bestanden: ${tests.join("; ")}`]),
      "jeder Befund erledigt oder unten schriftlich übergeben",
      "Werkzeug und Leute weg vom Fahrzeug",
    ],
  },
  findings: "Schriftlich übergebene Befunde",
  finding: "Befund",
  where: "Wo",
  what: "Was noch zu tun ist, und durch wen",
  signs: "Die zuständige Person",
};
