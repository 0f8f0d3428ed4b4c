// Owns where the limits of a lift's checks come from, in German: what the rules of rigging say of themselves. What comes from a file stays as it is there.

const SOURCES: Readonly<Record<string, string>> = {
  "the vehicle file": "die Fahrzeugdatei",
  "the rig file": "die Anschlagdatei",
  "the vehicle file's margin, or common practice where it gives none":
    "der Spielraum der Fahrzeugdatei, oder wo sie keinen nennt, übliche Praxis",
  "no limit is given": "kein Grenzwert ist angegeben",
  "no rule is given for its angle": "für seinen Winkel ist keine Regel angegeben",
  statics: "Statik",
  "second variation of the energy": "zweite Variation der Energie",
  "30° from the horizontal at the least: ASME B30.9 guides, EN 818-4 (60° from the vertical)":
    "mindestens 30° zur Waagrechten: Leitfäden zu ASME B30.9, EN 818-4 (60° zur Senkrechten)",
  "the maker's rating for every direction": "Angabe des Herstellers für jede Richtung",
  "eye without a shoulder: axial pull only (trade pages on eye bolts; ASME B30.26 guides)":
    "Öse ohne Bund: nur Zug längs (Fachseiten zu Ringschrauben; Leitfäden zu ASME B30.26)",
  "US forged shoulder pattern, two trade tables": "US-Form, geschmiedet mit Bund, zwei Fachtabellen",
  "US metric machinery pattern, trade table with factor 5": "metrische US-Maschinenform, Fachtabelle mit Faktor 5",
  "DIN 580 annex A; its 45° column read as weight per bolt":
    "DIN 580 Anhang A; die Spalte 45° als Gewicht je Schraube gelesen",
  "BS 4278 collar bolts in pairs, from memory; the share taken of the pull, the stricter reading":
    "BS 4278, Bundschrauben paarweise, aus dem Gedächtnis; der Anteil vom Zug genommen, die strengere Lesart",
  "slings within 20° of the bolt's axis, WAC 296-304-07011":
    "Stränge höchstens 20° zur Schraubenachse, WAC 296-304-07011",
  "studless chain, EA = 8.54e10·d² N, mooring practice, from memory":
    "Kette ohne Steg, EA = 8,54e10·d² N, Praxis des Festmachens, aus dem Gedächtnis",
  "6×36 rope, 100 GPa on 0.46·d² of metal, from memory": "Seil 6×36, 100 GPa auf 0,46·d² Metall, aus dem Gedächtnis",
  "polyester web, 3 % at its limit, from memory": "Polyesterband, 3 % bei seinem Grenzwert, aus dem Gedächtnis",
  "lift factor on land, one crane: guideline 0027/ND rev. 11 table 5-1":
    "Hubfaktor an Land, ein Kran: Richtlinie 0027/ND Rev. 11, Tabelle 5-1",
  "its curve, on the straight line between two figures": "seine Kurve, auf der Geraden zwischen zwei Werten",
  "the least of its figures: no reach is given": "der kleinste seiner Werte: keine Ausladung ist angegeben",
  "EN 818-4 load table": "EN 818-4, Tragfähigkeitstabelle",
  "grade 10 load table, after EN 818-4": "Tabelle für Güte 10, nach EN 818-4",
  "EN 13414-1 table 4": "EN 13414-1, Tabelle 4",
  "EN 1492 colour": "EN 1492, Farbe",
};

/** Those with figures in them. */
const PATTERNS: readonly (readonly [RegExp, string])[] = [
  [/^its figure at ([\d.]+) m$/, "sein Wert bei $1 m"],
  [
    /^on the line between its figures at ([\d.]+) m and ([\d.]+) m$/,
    "auf der Geraden zwischen seinen Werten bei $1 m und $2 m",
  ],
  [/^the lower of its figures at ([\d.]+) m and ([\d.]+) m$/, "der kleinere seiner Werte bei $1 m und $2 m"],
  [/^EN 13001-2 (HC\d) at ([\d.]+) m\/s, from memory$/, "EN 13001-2 $1 bei $2 m/s, aus dem Gedächtnis"],
];

/** A source in German: whole, or piece by piece where two are joined. */
export function sourceInGerman(source: string): string {
  const known = SOURCES[source];
  if (known !== undefined) return known;
  for (const [pattern, said] of PATTERNS)
    if (pattern.test(source)) return source.replace(pattern, said).replaceAll(/(\d)\.(\d)/g, "$1,$2");
  const [, curve] = /^its curve: (.*)$/.exec(source) ?? [];
  if (curve !== undefined) return `seine Kurve: ${sourceInGerman(curve)}`;
  // The rating's own source before that of the rule: the rule's may hold the sign that joins them.
  const at = source.indexOf("; ");
  return at < 0 ? source : `${sourceInGerman(source.slice(0, at))}; ${sourceInGerman(source.slice(at + 2))}`;
}
