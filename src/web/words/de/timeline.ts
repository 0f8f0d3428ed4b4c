// Owns the words of the timeline and of the curve of crews, in German.

import type { Words } from "../words.ts";

export const timeline: Words["timeline"] = {
  elapsed: "Dauer",
  labour: "Arbeitszeit",
  curve: {
    people: "Leute",
    bound: "Nicht unter",
    proved: "bewiesen",
    cannot: "geht nicht",
    reads: "Der Ring ist die kürzeste gefundene Dauer, der Strich darunter, was kein Zeitplan unterbietet.",
    knee: (n) =>
      n === 1 ? "Schon ab einer Person spart eine weitere wenig." : `Ab ${n} Leuten spart eine weitere Person wenig.`,
    spare: (tool, count, elapsed) => `Mit ${count} × ${tool} wären es ${elapsed}.`,
    noSpare: (tool) => `Noch ein Stück (${tool}) würde nichts sparen.`,
  },
};
