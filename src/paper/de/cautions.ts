// Owns the cautions of the plan, in German, by their ids.

import type { Words } from "../said.ts";

export const cautions: Words["cautions"] = {
  "battery-off":
    "Ein Schlüssel zwischen Pol und Rahmen zieht einen Lichtbogen. Massekabel zuerst ab und zuletzt an, wie der Hersteller es sagt; keine Ringe, keine Flamme, Augenschutz.",
  "hv-isolate":
    "Berühren spannungsführender Teile tötet. Nur wer für dieses System ausgebildet und befugt ist, schaltet nach dem Verfahren des Herstellers frei, behält den Trennstecker, wartet die Zeit des Herstellers ab und stellt die Spannungsfreiheit fest, bevor jemand arbeitet.",
  "hv-orange":
    "Hochvoltleitung: Berühren unter Spannung tötet. Nicht schneiden, ausclipsen oder bewegen, bis die befugte Person die Freischaltung nachgewiesen hat.",
  "fuel-open":
    "Kraftstoffdampf kriecht am Boden und entzündet sich von weit her. Mit geschlossenem Gerät ablassen, gut gelüftet und nie über einer Grube; nichts, was Funken schlägt, läuft derweil; Löscher bereit.",
  injection:
    "Ein Strahl, zu fein zum Sehen, geht durch Haut und Handschuh. Zuerst nach dem Verfahren des Herstellers drucklos machen, nie mit der Hand nach einem Leck fühlen, mit jedem Einstich sofort ins Krankenhaus.",
  "air-release": "Ein Schlauch unter Druckluft schlägt. Behälter entleeren, an jedem Kreis null ablesen, dann öffnen.",
  "spring-brake":
    "Die Feder darin kann töten. Räder unterkeilen, nach dem Verfahren des Herstellers einspannen, nicht dahinter stehen und nie das Spannband lösen.",
  "spring-tension":
    "Gespeicherte Federkraft: mit dem Werkzeug des Herstellers Schritt für Schritt entspannen, nicht in ihrer Linie stehen.",
  "hot-coolant":
    "Heißes Kühlmittel unter Druck verbrüht. Abkühlen lassen, wie der Hersteller es sagt, dann den Deckel langsam öffnen und den Druck ablassen.",
  "hot-parts": "Nach dem Abstellen noch heiß. Handschuhe, oder warten.",
  refrigerant:
    "Kältemittel erfriert die Haut und verdrängt die Atemluft. Nicht ablassen: eine ausgebildete Person fängt das Gas auf.",
  airbag:
    "Ein Gasgenerator kann zünden. Batterie trennen und die Zeit des Herstellers abwarten; mit der Fläche nach außen tragen und nach oben ablegen.",
  fluid:
    "Diese Flüssigkeit schadet Haut und Augen. Handschuhe und Schutzbrille, Verschüttetes sofort aufwischen, Sicherheitsdatenblatt lesen.",
  "under-vehicle":
    "Ein Fahrzeug, das herunterkommt, erdrückt. Nie darunter nur auf Hebern: ebener fester Boden, heile Böcke an den Punkten des Herstellers, die übrigen Räder unterkeilt.",
  "tilted-cab": "Eine gekippte Kabine oder ein Aufbau kann fallen. Stütze verriegeln, bevor Sie sich hineinbeugen.",
  "last-mount":
    "Diese Befestigung ist die letzte, die das Gewicht hält. Nicht beginnen, bis die Abstützung die Last trägt oder sie auf ihren Auflagen steht und eine zweite Person nachgesehen hat.",
  manual:
    "Schwer oder sperrig: zu zweit oder mit Hebezeug, wie die örtlichen Vorschriften für das Heben von Hand es verlangen.",
  "sling-fit":
    "Ein Anschlagmittel, das rutscht oder reißt, lässt die Last fallen. Das richtige, Schild lesbar, kein Knoten, kein Knick, Kanten gepolstert, Haken zu, Finger weg, bevor es strafft.",
  "eye-bolt":
    "Eine quer gezogene Öse biegt oder bricht. Bund rundum anliegend, in der Ebene der Öse belastet, schräg nur nach der Tabelle ihres Herstellers.",
  suspended:
    "Eine fallende oder pendelnde Last tötet. Niemand unter oder neben ihrem Weg, weder Hand noch Kopf zwischen Last und Fahrzeug, nicht über Menschen hinweg.",
  "side-pull":
    "Schrägzug lässt die Last pendeln und überlastet den Kran. Vor dem Heben den Haken über den Schwerpunkt bringen.",
  trial:
    "Was noch hält, reißt oder kippt die Last. Langsam straffen, einige Zentimeter heben, anhalten, warten; zeigt die Waage zu viel, neigt sich die Last oder knarrt etwas: wieder absetzen.",
  "trial-down":
    "Was noch hält, reißt oder kippt die Last. Einige Zentimeter senken, anhalten, ringsum nachsehen; strafft sich etwas, neigt sich die Last oder knarrt sie: wieder anheben.",
  "fork-truck":
    "Gehobene Gabeln kommen ohne Warnung herunter. Niemand steht oder geht darunter, beladen oder leer; heben nur mit einem Anbaugerät, das der Hersteller des Staplers zulässt.",
  "work-on-load":
    "Eine hängende Last kann während der Arbeit fallen. Daran arbeiten nur auf einem dafür gemachten Bock oder Gestell.",
  "start-up":
    "Die Maschine kann anlaufen oder sich bewegen. Werkzeug und Leute weg, Antrieb im Leerlauf, Räder unterkeilt, alle unterrichtet, bevor das Massekabel angeht und der Schlüssel gedreht wird.",
  "exhaust-gas": "Abgas tötet in geschlossener Halle. Absaugung an, Tore auf.",
};
