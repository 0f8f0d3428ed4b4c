// Owns the words of the torque sheet, in German.

import type { Words } from "../said.ts";

export const torque: Words["torque"] = {
  title: "Drehmomentblatt",
  intro:
    "Ist-Wert ist, was der Schlüssel zeigte. Wo die Spalte 2. frei ist, liest auch eine zweite Person ab, ohne den ersten Wert gesehen zu haben.",
  step: "Schritt",
  joint: "Verbindung",
  target: "Soll",
  band: "Toleranz, N·m",
  tool: "Werkzeug",
  actual: "Ist",
  second: "2.",
  initials: "Kürzel",
  paint: "Farbe",
  proposal: "VORSCHLAG, nicht in der Datei",
  practice: (percent) =>
    `Die Datei nennt keine Toleranz: ± ${percent} % ist übliche Praxis und gilt bei der Freigabe zur Inbetriebnahme; gibt der Hersteller eine andere an, geht seine vor.`,
  coarse: "mehr als die Toleranz",
  deviation:
    "Hinter dem Werkzeug: um wie viel ein Schlüssel, der in Ordnung ist, abweichen darf (ISO 6789:2003: ± 6 % bis 10 N·m, ± 4 % darüber); sein Prüfschein geht vor.",
  patterns: "Anziehbilder: die Zahl im Ring ist die Reihenfolge, ein dicker Ring die erste",
  none: "Nichts an dieser Arbeit wird auf einen Wert angezogen.",
  noTool: "nicht genannt",
  sizes: (size, isAll) => (isAll ? `alle ${size}` : `alle ohne Maß: ${size}`),
  circle: "Schrauben gleichmäßig auf einem Kreis, 1 oben: die Datei sagt nicht, wo sie sind.",
};
