// Owns what keeps a lift from being reckoned: what the file lacks for it, by name, and its words in English and German.

/** What is lacking, and the mend; `names` are ids of the file. */
interface Said {
  readonly what: (names: string) => string;
  readonly mend: string;
}

const ENGLISH = {
  "no legs": {
    what: () => "the file has no legs, so nothing says how it is slung",
    mend: "Write legs under lifting, or give --legs EYE=LENGTH.",
  },
  "no leg on it": {
    what: (eyes) => `no leg is on an eye of what goes up: ${eyes}`,
    mend: "Write legs under lifting, or give --legs EYE=LENGTH.",
  },
  "no centre": {
    what: (parts) => `none of ${parts} has both a mass and a centre`,
    mend: "Write mass and centre of the heavy ones.",
  },
  "no place of an eye": { what: (eye) => `nothing says where ${eye} is`, mend: "Write at: [x, y, z]." },
  "no place of a hook": { what: () => "of two hooks each must have its place", mend: "Write at: [x, y, z]." },
  "no such hoist": { what: (hoist) => `there is no hoist ${hoist}`, mend: "Name a hoist of the file." },
  "more beams": {
    what: (beams) => `its legs lead to more than one beam: ${beams}`,
    mend: "Name the legs of one: --legs.",
  },
  "hoist and hooks": {
    what: (hooks) => `some legs go to ${hooks}, and others to the hoist's hook`,
    mend: "Give every leg its hook: to.",
  },
  "pin and hooks": {
    what: (hooks) => `its pin is on one hook, and legs go to ${hooks}`,
    mend: "Leave out the pin and lead legs from the beam up to both hooks, or lead all legs to the beam.",
  },
  "too many hooks": {
    what: (hooks) => `the legs go to ${hooks}, and at most two hooks can be reckoned`,
    mend: "Name the legs of two: --legs.",
  },
} as const satisfies Readonly<Record<string, Said>>;

export type LiftLack = keyof typeof ENGLISH;

/** What is wrong with a question about a lift: where, what, and what would mend it; of what the file lacks, also which lack and of what. */
export interface LiftFault {
  readonly at: string;
  readonly what: string;
  readonly mend: string;
  readonly lack?: { readonly is: LiftLack; readonly names: string };
}

export function lacking(at: string, is: LiftLack, ...ids: readonly string[]): LiftFault {
  const names = ids.join(", ");
  const { what, mend }: Said = ENGLISH[is];
  return { at, what: what(names), mend, lack: { is, names } };
}

const GERMAN: Readonly<Record<LiftLack, Said>> = {
  "no legs": {
    what: () => "die Datei hat keine Stränge, also sagt nichts, wie angeschlagen wird",
    mend: "Stränge unter lifting eintragen.",
  },
  "no leg on it": {
    what: (eyes) => `kein Strang ist an einer Öse dessen, was hochgeht: ${eyes}`,
    mend: "Stränge unter lifting eintragen.",
  },
  "no centre": {
    what: (parts) => `keines von ${parts} hat Masse und Schwerpunkt`,
    mend: "Masse und Schwerpunkt der schweren eintragen.",
  },
  "no place of an eye": { what: (eye) => `nichts sagt, wo ${eye} ist`, mend: "at: [x, y, z] eintragen." },
  "no place of a hook": { what: () => "von zwei Haken muss jeder seinen Ort haben", mend: "at: [x, y, z] eintragen." },
  "no such hoist": { what: (hoist) => `ein Hebezeug ${hoist} gibt es nicht`, mend: "Ein Hebezeug der Datei nennen." },
  "more beams": {
    what: (beams) => `die Stränge führen zu mehr als einer Traverse: ${beams}`,
    mend: "Die Stränge einer Traverse nennen.",
  },
  "hoist and hooks": {
    what: (hooks) => `einige Stränge führen zu ${hooks}, andere zum Haken des Hebezeugs`,
    mend: "Jedem Strang seinen Haken geben: to.",
  },
  "pin and hooks": {
    what: (hooks) => `ihr Bolzen hängt an einem Haken, und Stränge führen zu ${hooks}`,
    mend: "Den Bolzen weglassen und Stränge von der Traverse zu beiden Haken führen, oder alle Stränge zur Traverse.",
  },
  "too many hooks": {
    what: (hooks) => `die Stränge führen zu ${hooks}, und höchstens zwei Haken lassen sich rechnen`,
    mend: "Die Stränge zweier Haken nennen.",
  },
};

/** What is wrong, and the mend. What the rigging room refuses stays as it says it. */
export const faultInGerman = ({ what, lack }: LiftFault): string =>
  lack === undefined ? what : GERMAN[lack.is].what(lack.names);
export const mendInGerman = ({ mend, lack }: LiftFault): string => (lack === undefined ? mend : GERMAN[lack.is].mend);
