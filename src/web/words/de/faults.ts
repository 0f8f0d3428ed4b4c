// Owns faults of a vehicle file, and what is to be looked at in it, in German: by rule, of the values that come with each. Keys of the file and units stay as they are written there.

import type { Fault, Rule } from "../../../vehicle/index.ts";

interface Said {
  readonly what: string;
  readonly mend: string;
}

/** By name the values of a fault, as text. */
type Values = (name: string) => string;

const THINGS: Readonly<Record<string, string>> = {
  part: "Teil",
  position: "Arbeitsplatz",
  connection: "Verbindung",
  task: "Aufgabe",
  job: "Arbeit",
  eye: "Öse",
  hoist: "Hebezeug",
  leg: "Strang",
  hook: "Haken",
  beam: "Traverse",
  "beam point": "Punkt der Traverse",
  obstacle: "Hindernis",
  person: "Person",
  change: "Änderung",
};
const thing = (name: string): string => THINGS[name] ?? name;

const FORMS: Readonly<Record<string, string>> = {
  text: "ein Text",
  list: "eine Liste",
  map: "eine Gruppe von Schlüsseln",
};

/** The nearest name, where there is one; else what to do. */
const nearestOr = (of: Values, otherwise: string): string =>
  of("nearest") === "" ? otherwise : `Am ähnlichsten: ${of("nearest")}.`;

/** What the reader of YAML or of quantities says stays as it says it, in English. */
const as = (german: string, { what }: Fault): string => `${german} (${what.replace(/\.$/, "")}).`;

const BY_RULE: Readonly<Record<Rule, (of: Values, fault: Fault) => Said>> = {
  "no-file": (of) => ({
    what: `${of("path")} lässt sich nicht lesen.`,
    mend: "Prüfen Sie den Pfad; er gilt vom Ordner der Datei aus, die ihn nennt.",
  }),
  "file-too-large": (of) => ({
    what: `Die Datei hat ${of("size")} Zeichen, gelesen werden höchstens ${of("limit")}.`,
    mend: "Teilen Sie sie und nennen Sie die Teile unter include.",
  }),
  "too-many-files": () => ({
    what: "Es werden zu viele Dateien eingeschlossen.",
    mend: "Fassen Sie einige davon zusammen.",
  }),
  "too-many-faults": () => ({
    what: "Es sind so viele Fehler, dass die weiteren nicht mehr genannt werden.",
    mend: "Beheben Sie die ersten und lesen Sie die Datei noch einmal.",
  }),
  "include-outside": (of) => ({
    what: `${of("path")} führt aus dem Ordner der Hauptdatei hinaus.`,
    mend: "Eingeschlossenes liegt neben der Hauptdatei oder darunter; der Pfad beginnt ohne Schrägstrich.",
  }),
  "include-cycle": (of) => ({
    what: `${of("path")} wird von etwas eingeschlossen, das es selbst einschließt.`,
    mend: "Nehmen Sie eines der include weg.",
  }),
  "omits-nothing": (of) => ({
    what: `„${of("id")}“ wird weggelassen, und keine vorher gelesene Datei hat es.`,
    mend: nearestOr(of, "Nehmen Sie es hier weg, oder schließen Sie die Datei ein, die es hat."),
  }),
  syntax: (_, fault) => ({
    what: as("Das ist kein YAML", fault),
    mend: "Beheben Sie es an dieser Stelle; der Rest der Datei wird gelesen, sobald sie stimmt.",
  }),
  tag: (_, fault) => ({ what: as("Eine Marke mit ! hat hier nichts zu sagen", fault), mend: "Lassen Sie sie weg." }),
  alias: (_, fault) => ({
    what: as("Dieser Verweis mit * führt nirgendwohin", fault),
    mend: "Setzen Sie mit & davor den Anker, den er nennt, oder schreiben Sie aus, was gemeint ist.",
  }),
  "alias-bomb": () => ({
    what: "Verweise mit * vervielfachen sich hier zu mehr, als gelesen wird.",
    mend: "Schreiben Sie aus, was gemeint ist.",
  }),
  empty: (of) => ({
    what: of("key") === "" ? `${of("path")} ist leer.` : `${of("key")} ist leer gelassen.`,
    mend:
      of("key") === ""
        ? "Beginnen Sie mit format, vehicle und parts."
        : "Tragen Sie es ein, oder lassen Sie den Schlüssel weg.",
  }),
  "wrong-form": (of, fault) => ({
    what:
      FORMS[of("found")] === undefined
        ? as("Das hat hier die falsche Form", fault)
        : `${of("key")} ist hier ${FORMS[of("found")]}, und etwas anderes gehört hierher.`,
    mend: fault.mend,
  }),
  "unknown-key": (of, fault) => ({
    what: `${of("key")} ist hier kein Schlüssel.`,
    mend: nearestOr(of, fault.mend),
  }),
  "missing-key": (of) => ({
    what: `${of("of")} hat kein ${of("key")}.`,
    mend: `Tragen Sie ${of("key")} ein.`,
  }),
  "key-twice": (of) => ({ what: `${of("key")} steht hier zweimal.`, mend: "Behalten Sie eines davon." }),
  "not-a-flag": (of) => ({ what: `${of("key")} ist „${of("text")}“.`, mend: "Schreiben Sie true oder false." }),
  "not-a-count": (of) => ({
    what: `${of("key")} ist „${of("text")}“.`,
    mend: "Schreiben Sie eine ganze Zahl ab 1, ohne Einheit.",
  }),
  "unknown-word": (of, fault) => ({
    what: `${of("key")} ist „${of("text")}“, und das ist keines seiner Wörter.`,
    mend: nearestOr(of, fault.mend),
  }),
  "quantity-no-number": (of) => ({
    what: `${of("key")} ist „${of("text")}“, und darin ist keine Zahl zu lesen.`,
    mend: "Schreiben Sie Zahl und Einheit, zum Beispiel 12 kg.",
  }),
  "quantity-no-unit": (of) => ({
    what: `${of("key")} ist „${of("text")}“, ohne Einheit.`,
    mend: "Schreiben Sie die Einheit dahinter: Eine bloße Zahl lässt sich nicht deuten.",
  }),
  "quantity-unknown-unit": (of, fault) => ({
    what: `${of("key")} ist „${of("text")}“, und diese Einheit ist hier nicht bekannt.`,
    mend: fault.mend,
  }),
  "quantity-wrong-dimension": (of, fault) => ({
    what: `${of("key")} ist „${of("text")}“, und das ist eine Einheit für etwas anderes.`,
    mend: fault.mend,
  }),
  "quantity-tolerance": (of, fault) => ({
    what: `${of("key")} ist „${of("text")}“, und seine Toleranz lässt sich nicht lesen.`,
    mend: fault.mend,
  }),
  "one-value": (of) => ({
    what: `${of("key")} ist „${of("text")}“, und hier gehört ein einziger Wert her.`,
    mend: "Schreiben Sie ihn ohne Toleranz.",
  }),
  "below-nothing": (of) => ({
    what: `${of("key")} ist „${of("text")}“, und das ist kleiner als null oder kann es sein.`,
    mend: "Schreiben Sie einen Wert ab 0.",
  }),
  "bad-id": (of) => ({
    what: `„${of("id").slice(0, 90)}“ kann kein Name sein.`,
    mend: "Nehmen Sie Buchstaben, Ziffern, Punkte, Bindestriche und Unterstriche, und nicht zu viele.",
  }),
  "id-twice": (of) => ({
    what: `${of("id")} heißt schon etwas anderes (${thing(of("thing"))}).`,
    mend: `Geben Sie einem von beiden einen anderen Namen; soll dieses für jenes stehen, schreiben Sie in dieser Datei omits: ${of("id")}.`,
  }),
  "unknown-id": (of) => ({
    what: `${of("owner")} nennt unter ${of("key")} „${of("id")}“, und so heißt hier nichts.`,
    mend: nearestOr(of, "Schreiben Sie den Namen von etwas, das es in der Datei gibt."),
  }),
  "wrong-thing": (of) => ({
    what: `${of("owner")} nennt unter ${of("key")} ${of("id")}, und das ist etwas anderes (${thing(of("thing"))}).`,
    mend: "Nennen Sie hier etwas von der gesuchten Art.",
  }),
  "bad-need": (of, fault) => ({
    what: as("So lässt sich nicht sagen, was vorher sein muss", fault),
    mend: nearestOr(of, fault.mend),
  }),
  "no-fixed-part": () => ({
    what: "Kein Teil bleibt stehen, also sagt nichts, wovon die Baugruppe gelöst wird.",
    mend: "Schreiben Sie fixed: true beim Fahrzeug selbst.",
  }),
  "joins-too-few": (of) => ({
    what: of("joins") === "" ? `${of("owner")} verbindet nichts.` : `${of("owner")} verbindet nur ${of("joins")}.`,
    mend: "Nennen Sie die zwei oder mehr Teile, die es verbindet.",
  }),
  "joins-twice": (of) => ({
    what: `${of("owner")} verbindet dasselbe Teil zweimal.`,
    mend: "Nennen Sie jedes Teil einmal.",
  }),
  "rests-not-carrying": (of) => ({
    what: `${of("owner")} liegt auf und trägt nicht.`,
    mend: "Schreiben Sie carrying: true, oder lassen Sie rests weg.",
  }),
  "rests-nowhere": (of) => ({
    what: `${of("owner")} liegt auf, und nichts sagt, wo.`,
    mend: "Schreiben Sie at: [x, y, z], wo es aufliegt.",
  }),
  "hung-to-itself": (of) => ({
    what: `${of("owner")} hängt an sich selbst.`,
    mend: "Nennen Sie das Teil, das es tragen soll.",
  }),
  "no-room": (of) => ({
    what: `${of("owner")} braucht ${of("people")} Leute am Arbeitsplatz ${of("position")}, und dort ist Platz für ${of("room")}.`,
    mend: "Setzen Sie people hier herunter oder dort herauf, oder lassen Sie es anderswo geschehen.",
  }),
  "without-no-undo": (of) => ({
    what: `${of("owner")} geht nur ohne ${of("id")}, und das lässt sich nicht zurücknehmen.`,
    mend: `Geben Sie ${of("id")} ein undo, oder lassen Sie es hier weg.`,
  }),
  "back-task-needed": (of) => ({
    what: `${of("owner")} braucht ${of("id")}, und das ist eine Aufgabe des Rückwegs.`,
    mend: `Rufen Sie es von einem Anbau aus (then: [${of("id")}]), oder lassen Sie dort phase weg.`,
  }),
  "then-not-back": (of) => ({
    what: `${of("owner")} ruft beim Anbau ${of("id")}, und das ist eine Aufgabe des Hinwegs.`,
    mend: `Schreiben Sie phase: back bei ${of("id")}, oder nennen Sie eine andere Aufgabe.`,
  }),
  "undo-and-back": (of) => ({
    what: `${of("owner")} hat ein undo und dazu einen eigenen Rückweg.`,
    mend: "undo ist für einen Zustand des Fahrzeugs, back für das, was auf dem Rückweg einmal geschieht: Behalten Sie eines.",
  }),
  "back-task-does": (of) => ({
    what: `${of("owner")} gehört zum Rückweg und hat ${of("key")}.`,
    mend: `Lassen Sie ${of("key")} weg, oder phase: back.`,
  }),
  "after-on-way-out": (of) => ({
    what: `${of("owner")} gehört zum Hinweg und hat after, das vom Rückweg spricht.`,
    mend: "Schreiben Sie needs, oder phase: back, oder setzen Sie es unter back.",
  }),
  "no-hoist": (of) => ({
    what: `${of("owner")} hebt, und die Datei hat kein Hebezeug.`,
    mend: "Beschreiben Sie eines unter lifting: hoists: shop-crane: { reach: [[1 m, 1000 kg]] }.",
  }),
  "lifts-fixed": (of) => ({
    what: `${of("owner")} hebt ${of("id")}, und das bleibt stehen.`,
    mend: "Nennen Sie das Teil, das am Hebezeug hängt.",
  }),
  "beyond-reach": (of) => ({
    what: `${of("owner")} hebt bei ${of("reach")} m, und ${of("hoist")} reicht bis ${of("end")} m.`,
    mend: "Setzen Sie die Ausladung herunter, oder tragen Sie ein, was das Hebezeug dort noch trägt.",
  }),
  "hoist-empty": (of) => ({
    what: `${of("owner")} hat keine Ausladung.`,
    mend: "Schreiben Sie Paare: reach: [[1.0 m, 1000 kg], [1.4 m, 500 kg]].",
  }),
  "hoist-not-rising": (of) => ({
    what: `Die Ausladung von ${of("owner")} steigt nicht von Paar zu Paar.`,
    mend: "Die kürzeste kommt zuerst.",
  }),
  "leg-ends": (of) => ({
    what: `${of("owner")} geht von ${of("from")} nach ${of("to")}, und beides sind Punkte einer Traverse.`,
    mend: "Führen Sie ihn von einer Öse zur Traverse, oder von der Traverse zu einem Haken.",
  }),
  "pin-elsewhere": (of) => ({
    what: `${of("owner")} hängt an ${of("pin")}, und das ist kein eigener Punkt.`,
    mend: "Nennen Sie einen ihrer eigenen Punkte, oder geben Sie ihr welche.",
  }),
  "beam-unhung": (of) => ({
    what: `${of("owner")} wird von nichts gehalten.`,
    mend: "Nennen Sie den Punkt am Haken, pin: lug, oder führen Sie Stränge von ihren Punkten zu einem Haken.",
  }),
  "bad-layout": (of, fault) => ({
    what: `${of("key")} ist „${of("text")}“, und das ist kein Lochbild.`,
    mend: fault.mend,
  }),
  "not-a-friction": (of) => ({
    what: `${of("key")} ist keine Reibung, die ein Gewinde hat.`,
    mend: "Schreiben Sie eine Reibungszahl, 0.12 oder 0.10..0.16 (in der Regel 0.08 bis 0.24), oder einen Drehmomentbeiwert, K 0.2 (0.1 bis 0.5).",
  }),
  "bad-amount": (of, fault) => ({
    what: `${of("key")} ist „${of("text")}“, und das ist keine Menge.`,
    mend: fault.mend,
  }),
  "bad-limits": (of) => ({
    what: `${of("key")} ist „${of("text")}“, und das lässt dem Schlüssel keinen Spielraum.`,
    mend: "Schreiben Sie die Toleranz der Quelle: 48 N·m ± 5 %, oder 45..50 N·m; oder lassen Sie sie weg.",
  }),
  "two-aims": (of) => ({
    what: `${of("owner")} hat ein Anzugsmoment und eine Vorspannkraft, und eines folgt aus dem anderen.`,
    mend: "Behalten Sie, was die Quelle nennt.",
  }),
  "turn-alone": (of) => ({
    what: `${of("owner")} wird um einen Winkel weitergedreht, und kein Anzugsmoment sagt, von wo an.`,
    mend: "Schreiben Sie das Moment davor: torque: 20 N·m.",
  }),
  "bad-stages": (of) => ({
    what: `Die Stufen von ${of("owner")} steigen nicht bis zum vollen Anzugsmoment.`,
    mend: "Schreiben Sie sie steigend, die letzte voll: torque: 48 N·m, stages: [15 N·m, 30 N·m, 48 N·m].",
  }),
  "bad-hole": (of, fault) => ({
    what: as(`Die Löcher für ${of("item")} an ${of("owner")} stimmen nicht`, fault),
    mend: "Zählen Sie nach: Jedes Loch steht im Lochbild, ist einmal genannt, und es sind so viele wie Stücke.",
  }),
  "once-again": (of) => ({
    what: `${of("item")} an ${of("owner")} darf nur einmal angezogen werden und soll wieder verwendet werden.`,
    mend: "Lassen Sie reuse: true weg, oder once.",
  }),
  "half-pressure": (of) => ({
    what: `${of("owner")} hat nur eines von Druck und Bohrung.`,
    mend: "Schreiben Sie beides: pressure: 250 bar, bore: 22 mm.",
  }),

  "heavy-unsupported": (of) => ({
    what: `${of("part")} kann schwerer sein, als Hände halten dürfen, und keine Aufgabe übernimmt sein Gewicht vor der letzten Lagerung.`,
    mend: `Fügen Sie eine Aufgabe mit supports: [${of("part")}] oder lifts: [${of("part")}] hinzu, oder ein hang.`,
  }),
  "heavy-unheld": (of) => ({
    what: `${of("part")} kann schwerer sein, als Hände halten dürfen, und keine tragende Verbindung hält es an etwas Festem.`,
    mend: "Beschreiben Sie Lagerung, Halter oder Flansch, die es tragen, oder schreiben Sie dort carrying: true.",
  }),
  "hang-too-late": (of) => ({
    what: `${of("hang")} hängt ${of("part")} erst auf, wenn nichts es mehr trägt: vorher gelöst sein muss ${of("needs")}.`,
    mend: "Nehmen Sie diese Bedingung weg: Es wird zuerst aufgehängt und hängt dann, wenn ab ist, was es trägt.",
  }),
  "no-mass": (of) => ({
    what: `${of("part")} hat keine Masse und kann mit ${of("task")} hochgehen; gerechnet wird es mit nichts.`,
    mend: "Tragen Sie die Masse ein, geschätzt mit ihrer Unsicherheit: mass: 12 kg ± 30 %.",
  }),
  "no-drain": (of) => ({
    what: `${of("connection")} hält ${of("fluid")}, und nichts lässt es ab, bevor sie geöffnet wird.`,
    mend: `Nennen Sie unter needs eine Aufgabe mit drains: [${of("fluid")}], oder was aufzufangen ist: catch: 0.4 L ${of("fluid")}.`,
  }),
  "mixed-drain": (of) => ({
    what: `${of("task")} lässt mehreres zusammen ab: ${of("fluids")}.`,
    mend: "Geben Sie jeder Flüssigkeit eine eigene Aufgabe: Gemischt kommt keine wieder hinein.",
  }),
  "no-plug": (of) => ({
    what: `${of("connection")} wird gegen ${of("fluid")} geöffnet, und nichts verschließt sie so lange.`,
    mend: "Schreiben Sie, was es tut, je Ende einmal: plug: [plug 16 mm, cap 16 mm].",
  }),
  "no-torque": (of) => ({
    what: `${of("connection")} wird ohne Anzugsmoment wieder angebaut.`,
    mend: "Tragen Sie es nach der Anweisung des Herstellers ein: refit: { torque: 48 N·m }. Was stattdessen aus der Festigkeitsklasse gerechnet wird, bleibt ein Vorschlag.",
  }),
  "torque-for-which": (of) => ({
    what: `${of("owner")} kommt mit Gewinde im Zustand ${of("threads")} hinein, und nichts sagt, für welchen sein Anzugsmoment gilt.`,
    mend: `Schreiben Sie, was die Quelle sagt: meant: ${of("threads")}, oder meant: dry; der Unterschied wird dann gerechnet.`,
  }),
  "fine-torque": (of) => ({
    what: `${of("owner")} lässt bei ${of("torque")} weniger Abweichung zu, als ein Drehmomentschlüssel haben darf, der in Ordnung ist (ISO 6789:2003).`,
    mend: "Prüfen Sie, ob die Quelle es so will; dann braucht es einen Schlüssel mit besserem Prüfschein, und wer das Werkzeug legt, muss es wissen.",
  }),
  "layout-count": (of) => ({
    what: `Das Lochbild von ${of("owner")} hat ${of("places")} Plätze, und kein Stück seiner Verschraubung füllt sie.`,
    mend: "Zählen Sie nach; oder sagen Sie mit holes, welches Stück wohin gehört.",
  }),
  "no-isolation": (of) => ({
    what: `${of("connection")} steht unter ${of("live")}, und nichts schaltet das ab, bevor sie gelöst wird.`,
    mend: `Nennen Sie unter needs oder first, was es abschaltet (isolates: [${of("live")}]).`,
  }),
  "position-unreachable": (of, fault) => ({
    what: as(`Zum Arbeitsplatz ${of("position")} kommt niemand`, fault),
    mend: "Nehmen Sie eine dieser Bedingungen weg, oder geben Sie mit any einen anderen Weg.",
  }),
  "need-never-holds": (_, fault) => ({
    what: as("Das kann nie erfüllt sein", fault),
    mend: "Nehmen Sie eine dieser Bedingungen weg, oder geben Sie mit any einen anderen Weg.",
  }),
  "task-unneeded": (of) => ({
    what: `Nichts braucht ${of("task")}, also kommt es in keinen Plan.`,
    mend: "Nennen Sie es dort, wovor es kommt (needs, first); eine Aufgabe des Rückwegs bei ihrem Anbau (then).",
  }),
};

export const faultInGerman = (fault: Fault): Said => {
  const of: Values = (name) => {
    const value = fault.values[name];
    return value === undefined ? "" : typeof value === "object" ? value.join(" und ") : String(value);
  };
  return BY_RULE[fault.rule](of, fault);
};
