// Owns the words of the sheet of the order, in German.

import type { OrderFault } from "../../../plan/index.ts";
import type { Words } from "../said.ts";

/** What an order names, by the field that names it. */
const NAMED: Readonly<Record<string, string>> = {
  jobs: "Eine Arbeit",
  keep: "Ein Teil",
  take: "Ein Teil zum Herausnehmen",
  hoist: "Ein Hebezeug",
  withoutTools: "Ein Werkzeug",
  released: "Eine Verbindung",
};

const faultSaid = ({ at, value, nearest }: OrderFault) => {
  const [field = "", place] = at.split("[");
  if (field === "people")
    return { what: "So viele Leute gibt es nicht", mend: "Nennen Sie mindestens einen, oder niemand Bestimmtes." };
  if (value === undefined)
    return { what: "Der Auftrag verlangt nichts", mend: "Nennen Sie eine Arbeit, oder ein Teil, das herauskommt." };
  if (field === "take" && place === undefined)
    return { what: `${value} soll bleiben und herauskommen`, mend: "Nennen Sie es nur unter einem von beiden." };
  return {
    what: `${NAMED[field] ?? "Etwas"} ${value} gibt es in der Datei nicht`,
    mend: nearest === undefined ? "Wählen Sie aus, was sie hat." : `Am ähnlichsten: ${nearest}.`,
  };
};

export const order: Words["order"] = {
  faultSaid,
  afresh: "Auftrag neu beginnen",
  faults: "So kann der Auftrag nicht gefragt werden",
  impossible: "Dafür gibt es keinen Weg",
  because: "Dies zusammen geht nicht; lassen Sie eines weg oder ändern Sie die Datei:",
  notFound: "In der Zeit wurde kein Plan gefunden",
  notFoundMend:
    "Das heißt nicht, dass es keinen gibt. Fragen Sie weniger auf einmal: weniger Arbeiten, oder weniger Teile, die bleiben oder mitkommen müssen.",
  why: "Warum",
  noReason: "Nichts verlangt es für sich; es kostet nichts.",
  otherwise: "Sonst",
  left: "Gelassen, wie es ist",
  otherWay: (position) => (position === "" ? "Anders gemacht" : `Gemacht bei: ${position}`),
  noOther: "Es gibt keinen anderen Weg.",
  cannot: "geht nicht",
  notKnown: "in der Zeit nicht gefunden",
  more: (minutes) => `${minutes} mehr`,
  less: (minutes) => `${minutes} weniger`,
  same: "Gleich viel Arbeitszeit",
  atMost: "höchstens (nicht bewiesen)",
  search: (what) => `Suchen: ${what}`,
  noOptions: "Die Datei nennt keine.",
  noneFound: "Nichts mit diesem Namen.",
  clear: "Keine davon",
  sentence: {
    do: "Bitte",
    jobs: "Arbeiten",
    noJob: "eine Arbeit wählen",
    on: (vehicle) => `am ${vehicle}`,
    with: "mit",
    people: "Leute",
    anybody: "wem es braucht",
    wholeShop: (names) => names,
    anyPeople: (n) => (n === 1 ? "einer Person, die alles kann" : `${n} Leuten, die alles können`),
    by: "gehoben von",
    hoist: "Hebezeug",
    anyHoist: "dem Hebezeug, das am meisten zulässt",
    from: "Beginn",
    day: "Tag des Beginns",
    time: "Uhrzeit des Beginns: 07:00",
    keep: "Am Fahrzeug bleibt:",
    keepTitle: "Teile, die am Fahrzeug bleiben",
    take: "mit herauskommt:",
    takeTitle: "Teile, die mit dem Hub herauskommen",
    nothing: "nichts Bestimmtes",
    without: "Nicht zu haben:",
    withoutTitle: "Werkzeuge, die nicht zu haben sind",
    released: "schon gelöst:",
    releasedTitle: "Verbindungen, die schon gelöst sind",
  },
  labour: "Arbeitszeit, hinaus und zurück",
  provedLeast: "bewiesen die kleinste",
  atLeast: (bound, gap) => `mindestens ${bound}; Lücke ${gap}`,
  ownWork: (minutes) => `dazu die Arbeit selbst, ${minutes}`,
  waiting: (minutes) => `${minutes} muss niemand dabeistehen`,
  elapsed: "Dauer",
  elapsedBound: (bound, gap) => `nicht unter ${bound}; Lücke ${gap}`,
  people: (n) => (n === 1 ? "eine Person" : `${n} Leute`),
  noSchedule: "in der Zeit kein Zeitplan gefunden",
  comesOff: "Wird gelöst",
  connections: (n) => (n === 1 ? "Eine Verbindung" : `${n} Verbindungen`),
  visits: (n, fewest) =>
    n === 1 ? "in einem Gang" : n === fewest ? `in ${n} Gängen, den wenigsten` : `in ${n} Gängen; mindestens ${fewest}`,
  limit: (limit, hoist) => `höchstens ${limit}${hoist === "" ? "" : ` mit ${hoist}`}`,
  checked: "Geprüft",
  replayed: "Nachgespielt, hält",
  backFails: "Der Weg zurück hält nicht",
  checkedHow: (out, back, searched) =>
    `${out === 1 ? "1 Schritt" : `${out} Schritte`} hinaus und ${back} zurück, von einem Prüfer, der von der Suche nichts weiß; ${searched === 1 ? "1 Verbindung" : `${searched} Verbindungen`} abgesucht`,
  off: "Was gelöst wird, in dieser Reihenfolge",
  nothingOff: "Nichts: die Arbeit geschieht am Fahrzeug, wie es steht.",
  onChart: "In der Zeichnung",
  isReleased: "Ist schon gelöst",
  beside: "Die neue Antwort neben der alten",
  old: "Vorher",
  new: "Jetzt",
  noPlan: "kein Plan",
  andMore: (n) => `und ${n} weitere`,
  keepNew: "Die neue behalten",
  backToOld: "Zurück zur alten",
  edge: "Am Rand des Hubs",
  askEdge: "Was könnte bleiben, was mitkommen?",
  noEdge: "Am Rand steht nichts.",
  goes: "kommt mit",
  stays: "bleibt",
  keepThis: (part) => `${part} am Fahrzeug lassen`,
  takeThis: (part) => `${part} mitnehmen`,
  others: "Wenn es schon heraußen ist",
  askOthers: "Was wäre jetzt noch billig?",
  now: "jetzt",
  alone: "allein",
  addJob: "dazu",
  curve: "Mehr Hände",
  askCurve: "Wie lange mit einem, zweien, dreien?",
  help: {
    title: "Was heißt „bewiesen die kleinste“?",
    text: "Von allen Mengen von Verbindungen, die freigeben, was die Arbeit braucht, und für die es eine Reihenfolge gibt, in der jeder Schritt wirklich gemacht werden kann, kostet diese die wenigste Arbeitszeit für Lösen und Wiedereinbau zusammen. Die Suche führt eine Schranke mit, die kein zulässiger Plan unterschreitet; treffen sich Plan und Schranke, ist er bewiesen. Reicht die Zeit nicht, wird die Lücke genannt.\n\nBevor etwas gezeigt wird, spielt ein Prüfer, der mit der Suche keine Zeile teilt, den Plan Schritt für Schritt nach. Doku: release.md.",
  },
};
