// Owns the German of what keeps a question about rigging from having an answer. Keys and names of a file stay as they are there.

import type { Refusing } from "./refusal.ts";

const LEAVE_SOME = "Eine Toleranz angeben, die etwas davon übrig lässt.";
const LEGS = "Stränge unter lifting eintragen.";
const ENDS = "Noch einmal messen, und weglassen, was aus dem Übrigen folgt.";
const near = (known: readonly string[], nearest: string | undefined): string =>
  nearest === undefined ? `Es gibt: ${known.join(", ")}.` : `Am ähnlichsten: ${nearest}.`;

export const REFUSED_IN_GERMAN: Refusing = {
  "no figure": ({ value }) => ({ what: `${value} ist keine Zahl`, mend: "Eine Zahl angeben." }),
  "not positive": ({ value, unit }, w) => ({
    what: `${w.number(value, 3)} ${unit} ist nicht mehr als nichts`,
    mend: "Angeben, wie viel es ist.",
  }),
  "may be nothing": ({ value, unit }, w) => ({
    what: `in seiner Toleranz können es ${w.number(value, 3)} ${unit} sein`,
    mend: LEAVE_SOME,
  }),
  "not between": ({ value, low, high, unit }, w) => ({
    what: `${w.number(value, 3)} ${unit} liegt nicht zwischen ${w.number(low, 3)} und ${w.number(high, 3)}`,
    mend: "Die Grenzen der Größe nach angeben.",
  }),
  "no tolerance": ({ value }, w) => ({
    what: `${w.number(value, 3)} m ist keine Toleranz`,
    mend: "Angeben, wie weit es abweichen kann, 0 m oder mehr.",
  }),
  "out by its length": ({ within, length }, w) => ({
    what: `seine Länge kann um ${w.length(within)} abweichen, und er ist nur ${w.length(length)} lang`,
    mend: LEAVE_SOME,
  }),
  "outside the outline": ({ axis, value, low, high }, w) => ({
    what: `sein ${axis} ist ${w.length(value)}, und der Umriss geht von ${w.length(low)} bis ${w.length(high)}`,
    mend: "Den Schwerpunkt berichtigen, oder alles zeichnen, was die Last einnimmt.",
  }),
  "span misses": ({ from, to, said, follows }, w) => ({
    what: `von ${from} bis ${to} sind ${w.length(said)} angegeben, und aus ihren Orten folgen ${w.length(follows)}: sie verfehlen einander um ${w.length(said - follows)}`,
    mend: ENDS,
  }),
  "length misses": ({ leg, said, follows, across, height, angle }, w) => ({
    what: `${leg} ist mit ${w.length(said)} angegeben, und aus ${[
      ...(across === undefined ? [] : [`${w.length(across)} in der Waagrechten`]),
      ...(height === undefined ? [] : [`${w.length(height)} Höhe`]),
      ...(angle === undefined ? [] : [`${w.angle(angle)} zur Waagrechten`]),
    ].join(" und ")} folgen ${w.length(follows)}: sie verfehlen einander um ${w.length(said - follows)}`,
    mend: ENDS,
  }),
  "id twice": ({ id }) => ({ what: `„${id}“ kommt zweimal vor`, mend: "Jedem seinen eigenen Namen geben." }),
  "unknown id": ({ id }) => ({ what: `„${id}“ gibt es hier nicht`, mend: "Einen Strang oder eine Öse nennen." }),
  "no lower end": ({ id }) => ({
    what: `sein unteres Ende „${id}“ ist weder eine Öse noch ein Punkt der Traverse`,
    mend: "Eine Öse der Last nennen.",
  }),
  "no upper end": ({ id }) => ({
    what: `sein oberes Ende „${id}“ ist weder ein Haken noch ein Punkt der Traverse`,
    mend: "Einen Haken nennen.",
  }),
  "both ends on the beam": () => ({
    what: "seine beiden Enden sind an der Traverse",
    mend: "Von der Traverse hinauf zu einem Haken führen, oder von einer Öse zur Traverse.",
  }),
  "no point of the beam": ({ id }) => ({
    what: `„${id}“ ist kein Punkt der Traverse`,
    mend: "Einen ihrer Punkte nennen.",
  }),
  "beam on nothing": () => ({
    what: "nichts hält sie oben",
    mend: "Einen ihrer Punkte an den Haken stecken, oder sie an Stränge hängen.",
  }),
  "no hook": () => ({ what: "es gibt nichts, woran sie hinge", mend: "Einen Haken oder zwei angeben." }),
  "too many hooks": ({ hooks }) => ({
    what: `die Stränge führen zu ${hooks.join(", ")}, und höchstens zwei Haken lassen sich rechnen`,
    mend: "Die Stränge zu einem Haken führen oder zu zweien.",
  }),
  "hook without a place": () => ({
    what: "von zwei Haken muss jeder seinen Ort haben",
    mend: "at: [x, y, z] eintragen.",
  }),
  "hook without a leg": () => ({
    what: "kein Strang führt zu ihm",
    mend: "Einen Strang zu ihm führen, oder ihn weglassen.",
  }),
  "load without a leg": () => ({
    what: "kein Strang hält die Last",
    mend: "Mindestens einen Strang an einer Öse angeben.",
  }),
  "no such take-up": ({ taken, most, step }, w) => ({
    what: `um ${taken} von ${most} Schritten zu ${w.length(step)} lässt sich nichts verkürzen`,
    mend: "Ganze Schritte angeben, von 0 bis zu so vielen, wie es gibt.",
  }),
  "all taken up": () => ({
    what: "ganz verkürzt bleibt von ihm nichts",
    mend: "Weniger Schritte angeben, oder seine ganze Länge.",
  }),
  "does not span": ({ other, reach, span, from, to }, w) => ({
    what: `er und ${other}, zusammen ${w.length(reach)}, reichen nicht über die ${w.length(span)} zwischen ${from} und ${to}`,
    mend: `Zusammen müssen sie länger sein, und für 45° zur Waagrechten jeder mindestens ${w.length(span * Math.SQRT1_2)}.`,
  }),
  "no common hook": ({ legs }) => ({
    what: `${legs.join(", ")} reichen nicht alle zu einem Haken`,
    mend: "Den kurzen länger machen, oder anderswo anhängen.",
  }),
  "does not reach": ({ legs }) => ({
    what: `${legs.join(", ")} reichen nicht alle von ihren Ösen dorthin, woran sie hängen`,
    mend: "Den kurzen länger machen, oder die Haken näher heranbringen.",
  }),
  overstretched: ({ made, reach, tension }, w) => ({
    what: `von ${w.length(made)} würde er auf ${w.length(reach)} gezogen, mit ${w.force(tension)}: so weit dehnt sich kein Anschlagmittel`,
    mend: "Ihn länger machen, näher heranbringen, wohin er führt, oder einen stärkeren nehmen.",
  }),
  "no rest": () => ({
    what: "es ist keine Lage gefunden, in der sie zur Ruhe kommt",
    mend: "Die Zeichnung ansehen: Stränge, die aneinander vorbeiführen, eine Traverse, die umschlagen kann, oder kaum ein Gewicht.",
  }),
  "curve out of order": () => ({
    what: "seine Kurve hat keine Werte mit wachsender Ausladung",
    mend: "Ausladung und Grenze angeben, die kleinste zuerst.",
  }),
  "beyond its reach": ({ reach, from, to }, w) => ({
    what: `seine Werte gehen von ${w.length(from)} bis ${w.length(to)}, und der Hub ist bei ${w.length(reach)}`,
    mend: "Das Hebezeug in den Bereich seiner Werte bringen: darüber hinaus wird nichts geschätzt.",
  }),
  "no legs": () => ({ what: "die Datei hat keine Stränge, also sagt nichts, wie angeschlagen wird", mend: LEGS }),
  "no leg on it": ({ eyes }) => ({
    what: `kein Strang ist an einer Öse dessen, was hochgeht: ${eyes.join(", ")}`,
    mend: LEGS,
  }),
  "no centre": ({ parts }) => ({
    what: `von diesen hat keines Masse und Schwerpunkt: ${parts.join(", ")}`,
    mend: "Masse und Schwerpunkt der schweren eintragen.",
  }),
  "no place of an eye": () => ({ what: "nichts sagt, wo sie ist", mend: "at: [x, y, z] eintragen." }),
  "no such hoist": ({ hoist }) => ({
    what: `ein Hebezeug ${hoist} gibt es nicht`,
    mend: "Ein Hebezeug der Datei nennen.",
  }),
  "more beams": ({ beams }) => ({
    what: `die Stränge führen zu mehr als einer Traverse: ${beams.join(", ")}`,
    mend: "Die Stränge zu einer Traverse führen.",
  }),
  "hoist and hooks": ({ hooks }) => ({
    what: `einige Stränge führen zu ${hooks.join(", ")}, andere zum Haken des Hebezeugs`,
    mend: "Jedem Strang seinen Haken geben: to.",
  }),
  "pin and hooks": ({ hooks }) => ({
    what: `ihr Bolzen hängt an einem Haken, und Stränge führen zu ${hooks.join(", ")}`,
    mend: "Den Bolzen weglassen und Stränge von der Traverse zu beiden Haken führen, oder alle Stränge zur Traverse.",
  }),
  "no such leg": ({ leg, known, near: nearest }) => ({
    what: `einen Strang ${leg} gibt es nicht`,
    mend: near(known, nearest),
  }),
  "no such eye": ({ eye, known, near: nearest }) => ({
    what: `eine Öse ${eye} gibt es nicht`,
    mend: near(known, nearest),
  }),
  "stays behind": ({ eye, part, task }) => ({
    what: `${eye} ist an ${part}, das mit ${task} nicht hochgeht`,
    mend: "Anschlagen, was hochgeht, oder das Teil mitnehmen.",
  }),
  "unread length": (said) => said,
};
