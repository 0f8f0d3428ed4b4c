// Owns what the rigging room says in German: its remarks, and where the limits of its checks come from. What comes from a file stays as it is there.

import type { Saying } from "./remark.ts";
import { sourceInGerman } from "./source-in-german.ts";

const OVER = { "nominal figures": "bei den Nennwerten", "the range": "über alles Ungewisse" } as const;
const COUNT = { 2: "zwei", 3: "drei" } as const;
const WHY: Readonly<Record<string, string>> = { choked: "geschnürt" };
/** Names of the rules that an eye may follow, as the file has them, with what they are. */
const RULES: Readonly<Record<string, string>> = {
  "axial only": "nur längs",
  "any direction": "jede Richtung",
  "within 20 degrees": "bis 20 Grad",
};

/** What a check or a fault is about where it is no name of a file's. */
const THINGS: Readonly<Record<string, string>> = {
  chain: "Kette",
  "wire rope": "Drahtseil",
  web: "Band",
  shackle: "Schäkel",
  load: "Last",
  "load.mass": "Masse der Last",
  "load.centre": "Schwerpunkt der Last",
  "load.within": "Toleranz des Schwerpunkts",
  beam: "Traverse",
  "beam.mass": "Masse der Traverse",
  "beam.pin": "Bolzen der Traverse",
  hooks: "Haken",
  legs: "Stränge",
};
export const thingInGerman = (thing: string): string => THINGS[thing] ?? thing;

export const GERMAN: Saying = {
  pull: ({ force, over }, w) => `${w.force(force)} ${OVER[over]}`,
  "legs carry": ({ force, carrying, of, angle, computed }, w) =>
    `${w.force(force)}: ${COUNT[carrying]} von ${of} Strängen tragen alles, ${w.angle(angle)} zur Waagrechten (gerechnet ${w.force(computed)})`,
  "on the hook": ({ force }, w) => `${w.force(force)} daran`,
  "below the beam": ({ force }, w) => `${w.force(force)} darunter`,
  "on the hoist": ({ force, tackle, beam }, w) =>
    `${w.force(force)} Last${beam === undefined ? ` und ${w.mass(tackle)} Geschirr` : `, ${w.mass(tackle)} Geschirr und ${w.mass(beam)} Traverse`}, in Ruhe`,
  "at rest": ({ force }, w) => `${w.force(force)} in Ruhe`,
  pad: ({ force, most, over }, w) =>
    `gerechnet ${w.force(force)} in Ruhe; ${over === "the range" ? "höchstens, über alles Ungewisse und bei jeder Steifigkeit" : "das ganze Gewicht, denn Verbindungen tragen nach einer nur geschätzten Steifigkeit mit"}${most === undefined ? "" : ` ${w.force(most)}`}`,
  factor: ({ factor, source, assumed }, w) =>
    ` × ${w.number(factor, 3)} (${sourceInGerman(source)}${assumed ? "; ein Vorgabewert" : ""})`,
  "from the axis": ({ angle }, w) => `, ${w.angle(angle)} zur Schraubenachse`,
  against: ({ value, kilograms, share, limit }, w) =>
    ` = ${w.force(value)} gegen ${w.mass(kilograms)}${share === 1 ? "" : ` × ${w.number(share, 3)}`} = ${w.force(limit)}`,
  "against its rating": ({ kilograms, limit }, w) => ` gegen ${w.mass(kilograms)} = ${w.force(limit)}`,
  "none found above": ({ force }, w) => `; über ${w.force(force)} wurde kein Fall gefunden, ausgeschlossen ist keiner`,
  "side pull": ({ angle }, w) => ` (${w.number(angle, 1)}° Schrägzug)`,
  reduced: ({ why }) => ` (${WHY[why] ?? why})`,
  "no such angle": ({ rule }) => `: die Regel „${RULES[rule] ?? rule}“ lässt keinen solchen Winkel zu`,
  "along the axis": () => ", vom Anteil längs der Achse",
  lean: ({ angle, least, low }, w) =>
    `${w.angle(angle)} zur Waagrechten, mindestens ${w.number(least, 1)}°, unter ${w.number(low, 1)}° zu beachten`,
  "none found below": ({ angle }, w) => `; unter ${w.angle(angle)} wurde kein Fall gefunden, ausgeschlossen ist keiner`,
  "face unknown": () => "wohin der Ring zeigt, ist nicht angegeben",
  "out of plane": ({ angle, most }, w) =>
    `der Zug weicht um ${w.angle(angle)} aus der Ebene des Rings, höchstens ${w.number(most, 1)}°`,
  "may be slack": ({ over }) => `kann ${OVER[over]} schlaff hängen: dann tragen die anderen alles`,
  higher: ({ margin }, w) =>
    margin > 0
      ? `der Schwerpunkt dürfte ${w.length(margin)} höher liegen, bevor die Last kippt`
      : Number.isFinite(margin)
        ? `der Schwerpunkt liegt ${w.length(-margin)} zu hoch, und die Last kippt`
        : "die Traverse bleibt nicht, wie sie angeschlagen ist, so tief der Schwerpunkt auch liegt",
  inside: ({ margin, least }, w) =>
    `der Schwerpunkt, so ungünstig verschoben, wie er sein kann, liegt ${w.short(margin)} innerhalb dessen, worauf sie steht; mindestens ${w.short(least)}`,
  "nothing keeps it": () => "nichts, worauf sie steht, hält sie",
  "mend limit": ({ from }) =>
    from === "the tag"
      ? "Geben Sie den Grenzwert vom Schild oder vom Hersteller an."
      : "Geben Sie den eingeprägten Grenzwert oder den des Herstellers an.",
  "mend rule": () => "Sagen Sie, welcher Regel sein Winkel folgt.",
  "mend gear": () => "Stärkeres Geschirr nehmen, einen steileren Strang oder eine leichtere Last.",
  "mend lean": () => "Längere Stränge nehmen, oder eine Traverse.",
  "mend axis": () => "Den Strang näher an die Schraubenachse bringen, oder eine Öse nehmen, die dafür gemacht ist.",
  "mend face": () =>
    "Sagen Sie, wohin der Ring zeigt, und legen Sie die Schraube unter, bis er längs des Strangs steht.",
  "mend plane": () => "Den Ring mit einer Scheibe unter dem Bund in die Linie des Strangs drehen.",
  "mend hoist": ({ factor }, w) =>
    `Das ist innerhalb der Tragfähigkeit, und mit ${w.number(factor, 3)} für das Heben wäre es das nicht: langsam heben, oder ein anderes Hebezeug nehmen.`,
  "mend slowly": ({ factor }, w) =>
    `Das ist innerhalb der Grenze, und mit ${w.number(factor, 3)} für das Heben wäre es das nicht: langsam vorgehen, oder etwas Stärkeres nehmen.`,
  "mend tipping": ({ isBeam }) =>
    isBeam
      ? "Die Traverse an einem Punkt halten, der über denen liegt, an denen die Stränge hängen."
      : "Höher anschlagen, oder an Ösen, die weiter auseinander liegen.",
  "mend pad": () =>
    "Etwas Stärkeres nehmen, die Auflagen so setzen, dass jede weniger trägt, oder vorher Gewicht abnehmen.",
  "mend table": () => "Etwas Stärkeres nehmen, oder eine leichtere Last.",
  "mend stand": () => "Die Auflagen weiter auseinander setzen, oder die Last über ihre Mitte.",
  massless: ({ parts }) => `ohne Masse, als nichts gezählt: ${parts.join(", ")}`,
  placeless: ({ parts }) => `ohne Schwerpunkt, an dem der übrigen gezählt: ${parts.join(", ")}`,
  "centre within": ({ length }, w) =>
    `der Schwerpunkt kann um ${w.short(length)} nach jeder Seite anders liegen: kein Teil sagt, wie weit (within)`,
  "eye table": ({ eye, kilograms, source }, w) =>
    `Öse ${eye}: ${w.number(kilograms, 0)} kg gerade, ${sourceInGerman(source)}`,
  "leg left off": ({ leg, eye, part }) =>
    `Strang ${leg} hebt hier nicht: seine Öse ${eye} sitzt an ${part}, das nicht mit hochgeht`,
  "leg stiff": ({ leg }) => `Strang ${leg}: er dehnt sich nicht, denn nichts sagt, woraus er ist`,
  "leg stretch": ({ leg, source }) => `Strang ${leg}: Dehnung nach: ${sourceInGerman(source)}`,
  "leg tenth": ({ leg }) => `Strang ${leg}: seine Steifigkeit ist auf ein Zehntel bekannt`,
  "leg table": ({ leg, kilograms, source }, w) => `Strang ${leg}: ${w.mass(kilograms)}, ${sourceInGerman(source)}`,
  "leg made": ({ leg, length }, w) =>
    `Strang ${leg}: seine Länge kann um ${w.short(length)} abweichen, nach dem Text eines Kettenherstellers`,
  "straight up": ({ length }, w) => `die Last geht ${w.number(length, 2)} m gerade hoch: die Datei gibt keinen Weg an`,
  chances: ({ seen, hidden, unknown, standing }, w) =>
    `vor jeder Ablesung: ${w.number(100 * seen, 1)} % für jede Verbindung des Schnitts, ${w.number(100 * hidden, 1)} % für eine verdeckte, ${w.number(100 * unknown, 1)} % für eine Masse, von der niemand weiß, ${w.number(100 * standing, 1)} % dafür, dass sie noch auf etwas steht: Schätzungen dieses Programms`,
  "below the cell": ({ mass }, w) =>
    `nach Teilen und Flüssigkeiten unter ${w.mass(mass)} wird nicht gefragt: die Wägezelle zeigt so wenig nicht`,
  "stiffness by kind": () =>
    "die Steifigkeit einer Verbindung nach ihrer Art, auf einen Faktor drei genau: Schätzungen dieses Programms",
  "taken off": ({ force, isBeam }, w) =>
    `von jeder Ablesung ${w.force(force)} abgezogen für ${isBeam ? "Geschirr und Traverse" : "Geschirr"}`,
  tips: () => "das Gleichgewicht, so wie angeschlagen ist, hält nicht",
  "tips somewhere": () =>
    "bei manchen Werten, die die Toleranzen zulassen, hängt sie nicht so, wie sie angeschlagen ist",
  "many take-ups": ({ able, most }) => `${able} Stränge lassen sich verkürzen; gesucht wird bei höchstens ${most}`,
  "no take-up": () => "kein Strang lässt sich verkürzen: für einen links oder take-up angeben",
  "last point": ({ point }) =>
    `kein Strang lässt sich verkürzen, und ${point} ist der einzige Punkt, an dem die Traverse hängen kann: ihr weitere geben`,
  "no reading": () => "nichts ist abgelesen",
  "still on its feet": ({ rise, force, off }, w) =>
    `bei ${w.short(rise)} Hub drückt auch die freie Last noch mit ${w.force(force)} auf ihre Auflagen${off === undefined ? "" : ` und ist bei ${w.short(off)} davon ab`}: noch lässt sich nichts sagen; höher heben, halten und neu ablesen`,
  "more than on its feet": ({ rise, read, most }, w) =>
    `bei ${w.short(rise)} Hub zeigte die freie Last höchstens ${w.force(most)}, und ${w.force(read)} sind abgelesen: etwas kann sie halten, oder der Hub ist nicht ab straffen Strängen gezählt; wieder absenken und nachsehen`,
  "would not hang": () => "frei hinge sie nicht so, wie sie angeschlagen ist",
  "no load on the cell": ({ read, tackle }, w) =>
    `${w.force(read)} sind nicht mehr, als ohne die Last an der Wägezelle hängt, ${w.force(tackle)}`,
  "mend reading": () => "Mit der Last an der Wägezelle ablesen, samt Geschirr.",
  "left on": ({ part }) => `noch dran: ${part}`,
  "not drained": ({ fluid, mass }, w) => `nicht abgelassen: ${fluid}, ${w.mass(mass)}`,
};
