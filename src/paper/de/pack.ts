// Owns the words that stand on every page of a pack, in German.

import type { Words } from "../said.ts";

export const pack: Words["pack"] = {
  title: (jobs, vehicle) => `Auftragsmappe: ${jobs}, ${vehicle}`,
  order: (id) => `Auftrag ${id}`,
  file: (digest) => `Datei ${digest}`,
  version: (version) => `Fassung ${version}`,
  made: (moment) => `erstellt ${moment}`,
  pageOf: ["Seite ", " von "],
  continued: "Fortsetzung",
  done: "fertig",
  second: "2.",
  general:
    "Die Anleitung des Herstellers, örtliche Vorschriften und die befähigte Person gehen dieser Mappe vor. Die Liste der Warnungen ist nicht vollständig.",
  lockout:
    "Die Maschine kann anlaufen oder sich bewegen, während Sie arbeiten. Schlüssel abziehen oder Trennschalter abschließen, mit Ihrem Namen kennzeichnen, Anlassen versuchen, dann beginnen.",
  invented: (note) => `Aus der Datei: ${note}`,
  sign: { name: "Name", signature: "Unterschrift", when: "Datum, Uhrzeit" },
  signals: { DANGER: "GEFAHR", WARNING: "WARNUNG", CAUTION: "VORSICHT" },
};
