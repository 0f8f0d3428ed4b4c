// Owns the words of tags, bag labels and hole cards, in German.

import type { Words } from "../said.ts";

export const tags: Words["tags"] = {
  title: "Anhänger: A und B beim Trennen an die beiden Hälften binden",
  bags: "Beutelschilder",
  at: (half, part) => `${half} an ${part}`,
  thisHalf: (part) => `an ${part}`,
  mates: (others) => `gehört zu ${others}`,
  position: (where) => where,
  bag: (count, hardware) => `BEUTEL: ${count} (${hardware})`,
  counted: (out, back) =>
    back === undefined ? `heraus bei Schritt ${out}` : `heraus bei Schritt ${out}, hinein bei ${back}`,
  reading:
    "Die sechs Zeichen vorlesen oder eintippen: 0, 1, I und O kommen nicht vor, und das letzte beweist die anderen.",
  holes: "Lochkarten: jede Schraube beim Herausnehmen an ihrem Platz durchstecken",
  fullSize: "In voller Größe: den Balken nachmessen, bevor Sie sich darauf verlassen.",
  reduced: (scale) => `Passt nicht auf das Papier: gezeichnet ${scale}.`,
  tiled: (sheets) =>
    `Es folgen ${sheets} Blätter in voller Größe: ohne Skalierung drucken, auf jedem den Balken nachmessen, entlang der Striche schneiden und Kreuz auf Kreuz legen, Reihe für Reihe.`,
  tile: (name, row, column) => `${name}: Blatt ${row}/${column} (Reihe/Spalte)`,
  sheet: (row, column) => `Blatt ${row}/${column}`,
  lay: "volle Größe; Kreuz auf Kreuz",
  noSize: "Die Datei nennt die Folge der Plätze, nicht ihre Abstände: nicht maßstäblich.",
  holeAlt: (name, holes) => `Anordnung von ${name}, vom Schlüssel aus gesehen: ${holes}`,
  noHoles: "Keine Verbindung dieser Arbeit hat Schrauben verschiedener Länge an Plätzen, die die Datei nennt.",
};
