// Owns why a lift is not computed, in German: what the file lacks for it. Names of the file stay as they are.

const FAULTS: readonly (readonly [RegExp, string])[] = [
  [
    /^the file has no legs, so nothing says how it is slung$/,
    "die Datei hat keine Stränge, also sagt nichts, wie angeschlagen wird",
  ],
  [/^no leg is on an eye of what goes up: (.*)$/, "kein Strang ist an einer Öse dessen, was hochgeht: $1"],
  [/^none of (.*) has both a mass and a centre$/, "keines von $1 hat Masse und Schwerpunkt"],
  [/^nothing says where (.*) is$/, "nichts sagt, wo $1 ist"],
  [/^there is no hoist (.*)$/, "ein Hebezeug $1 gibt es nicht"],
  [/^its legs lead to more than one beam: (.*)$/, "die Stränge führen zu mehr als einer Traverse: $1"],
  [
    /^some legs go to (.*), and others to the hoist's hook$/,
    "einige Stränge führen zu $1, andere zum Haken des Hebezeugs",
  ],
  [/^its pin is on one hook, and legs go to (.*)$/, "ihr Bolzen hängt an einem Haken, und Stränge führen zu $1"],
  [
    /^the legs go to (\d+) hooks, and at most two can be reckoned$/,
    "die Stränge führen zu $1 Haken, und höchstens zwei lassen sich rechnen",
  ],
  [/^of two hooks each must have its place$/, "von zwei Haken muss jeder seinen Ort haben"],
];

/** What is not known stays as the rigging room says it. */
export function faultInGerman(what: string): string {
  const found = FAULTS.find(([pattern]) => pattern.test(what));
  return found === undefined ? what : what.replace(found[0], found[1]);
}
