// Owns the words of the first page and of signing in, in German.

import type { Words } from "../said.ts";

export const start: Words["start"] = {
  title: "Nichts mehr verbunden, wenn es sich bewegt. Nichts vergessen, wenn es läuft.",
  lead: "Unmoor plant den Ausbau einer großen Baugruppe und ihren Einbau: was gelöst werden muss, bewiesen; wer was wann tut; wie sie hängt; und den Weg zurück.",
  picture: "Eine Baugruppe in einem Fahrzeug, gehalten von zwölf Leinen, die sich eine nach der anderen lösen",
  demo: "Umsehen",
  demoLead:
    "Erfundene Maschinen, hier in Ihrem Browser durchgerechnet. Ändern Sie, was Sie wollen: es bleibt auf diesem Gerät und lässt sich zurücksetzen.",
  demos: {
    "plover-28": {
      name: "Plover 28",
      what: "Kommunalfahrzeug; Motor, Kupplung und Getriebe kommen gemeinsam nach oben heraus",
    },
    "marten-t1": { name: "Marten T1", what: "elektrischer Gepäckschlepper; das Antriebsmodul wird abgelassen" },
    "bench-pump": { name: "Pumpe am Prüfstand", what: "fünf Teile: klein genug zum Nachrechnen von Hand" },
  },
  reset: "Das Beispiel zurücksetzen",
  shop: "Fahrzeuge dieser Werkstatt",
  noVehicles: "Noch keines. Öffnen Sie unten eine Datei oder eine der erfundenen und bewahren Sie sie hier auf.",
  signInLead: "Fahrzeuge, Aufträge und Läufe dieser Werkstatt sind für ihre Leute.",
  setUpLead: "Noch kann sich niemand anmelden: wer den Server betreut, richtet ihn einmal ein.",
  own: "Eine eigene Datei",
  ownLead:
    "Legen Sie eine Fahrzeugdatei irgendwo auf der Seite ab, mit den Dateien, die sie einschließt. Sie wird hier gelesen und geht nirgendwohin, bis Sie sie aufbewahren.",
  open: "Datei öffnen …",
  draft: "Aus Erzähltem machen …",
  remove: (id) => `${id} von diesem Gerät entfernen`,
  dropHere: "Loslassen: die Datei wird hier geöffnet",
  noFile: "Es kam keine Datei",
  noFileMend: "Legen Sie eine Datei ab, keinen Ordner und keinen Text.",
  tooLarge: (name, mb, limit) => `${name} hat ${mb} MB, und eine Fahrzeugdatei höchstens ${limit} MB`,
  tooLargeMend:
    "Ist es die richtige? Ein Fahrzeug mit 3000 Verbindungen hat etwa 1 MB. Was mehrere Fahrzeuge teilen, gehört in eigene Dateien, unter include.",
  noText: (name) => `${name} ist kein Text`,
  noTextMend:
    "Eine Fahrzeugdatei ist ein Text in YAML, etwa traeger.vehicle.yaml. Ein Bild gehört zu einem Befund eines Laufs, nicht hierher.",
  entries: (n) => (n === 1 ? "ein Eintrag" : `${n} Einträge`),
  setUp: "Diese Werkstatt einrichten",
  setUpHow: "Der Code steht dort, wo der Server gestartet wurde. Sie werden der erste Werkstattleiter.",
  signOut: "Abmelden",
  withoutSigningIn: "Ohne Anmeldung umsehen",
  fields: {
    code: "Code der Einrichtung",
    person: "Kurzname zum Anmelden",
    name: "Ihr Name",
    site: "Wie die Werkstatt heißt",
    password: "Passwort",
    next: "Ein eigenes Passwort, ab jetzt",
  },
};
