// Owns the format of a language's file: which lists of words there are, what each is for, and how its forms are made.

import type { Says } from "./says.ts";

/** Lists of words and phrases. Each entry may have several words; one that ends in a hyphen stands for all its adjective endings. */
export const SETS = [
  // What is passed over: fillers, those of them that correct where a number follows, those that turn to something else, noises that captions put into brackets.
  "fillers",
  "correctingFillers",
  "turns",
  "noises",
  // The little words: where a name ends, articles, and single ones that rules ask for.
  "stop",
  "articles",
  "the",
  "indefinite",
  "definite",
  "demonstratives",
  "demonstrativesMany",
  "singulars",
  "manyArticles",
  "its",
  "and",
  "andOr",
  "then",
  "andThen",
  "nowThen",
  "of",
  "to",
  "off",
  "between",
  "from",
  "through",
  "where",
  "only",
  "further",
  "one",
  "ones",
  // "each": of each thing, of each side, the numbers that are of all, what stands before a sum.
  "each",
  "every",
  "distributing",
  "eachOne",
  "all",
  "whole",
  "sums",
  "perThing",
  "perSide",
  "perBefore",
  "eachSide",
  "eachSidePer",
  "spots",
  "shares",
  // Who and what: pronouns, those of them for many, those that choose one; people.
  "pronouns",
  "manyPronouns",
  "whichPronouns",
  // Also how a person is addressed: a pronoun only where no thing follows. Articles that make a genitive.
  "formal",
  "genitive",
  "subjects",
  "pointing",
  "nobody",
  "nobodys",
  // "another": a phrase by itself, before a name, one more of the same.
  "another",
  "more",
  "moreOpening",
  "moreOfSame",
  // Signs: what a whole phrase says of what stands around it.
  "closing",
  "final",
  "finalActs",
  "freed",
  "thatsIt",
  "correct",
  // Between two numbers, of which the second one is meant: "three, no, four".
  "slips",
  "notCorrecting",
  "erase",
  "there",
  "possessing",
  "standing",
  "copulas",
  "is",
  "held",
  "heldOn",
  "same",
  "alias",
  "intro",
  "removals",
  // What is not to be done, or not now.
  "beware",
  "not",
  "never",
  "leave",
  "leaveObject",
  "remind",
  "back",
  // Verbs by their lemma, and their particles.
  "particles",
  "undoing",
  "departs",
  "strong",
  "unplugs",
  "unbolts",
  "takes",
  "splits",
  "partings",
  "puts",
  "falls",
  "selfMoving",
  "moves",
  "passiveStart",
  "passives",
  "drained",
  "emptied",
  // Places: the words before them, those that need an article, those that are none.
  "placePrepositions",
  "placeArticles",
  // "two bolts at the top": where on the thing.
  "atWhich",
  "placeAdverbs",
  // Of these, what is a thing as well: "the drain port".
  "placeThings",
  "placesOf",
  "placesOver",
  "placesUnder",
  // What people get under, though it comes off as well.
  "roofs",
  "barePlaces",
  "notPlaces",
  // "hoses that go up to the cab": where a thing runs.
  "courses",
  "reaching",
  "relatives",
  "crossed",
  "going",
  "breaths",
  "otherSide",
  "sides",
  "sideEnds",
  "noEnds",
  "vehicles",
  // Names: describing words, those that name nothing, nouns that are verbs as well, details, tools.
  "passing",
  "describing",
  "stopsInNames",
  // Last words of names: what follows "hose" is its detail, its hardware, or another thing.
  "enders",
  // "hose in", "hose out": ends of a name where both are told.
  "inOut",
  // First words of names: "sensor" behind "plug" is another thing.
  "starters",
  // "ten pin plug": how a plug is made, and no ten of them.
  "poles",
  "generic",
  "kindly",
  "dual",
  "verbLike",
  "details",
  "dry",
  "tools",
  "gear",
  "hoisting",
  "hoists",
  "nothings",
  "noLoads",
  "sizes",
  "hundreds",
  "sureHomophones",
  // Beginnings of words that name an isolation, an adjuster; words that number a step.
  "isolators",
  "adjusters",
  "steps",
] as const;
export type Sets = (typeof SETS)[number];

/** What stands for a word: a number, a unit, a fluid, a kind of connection, what a task does. */
export const MAPS = [
  "torques",
  "volumes",
  "masses",
  // "on", "of", "from", "to": how a thing belongs to another.
  "links",
  "phrases",
  "fluids",
  "carries",
  "verbKinds",
  // Kinds of what holds a part, where they are not bolts, and of what feeds it.
  "partKinds",
  "fed",
  // Words that tell things apart, and by what: "big" and "small" by size.
  "contrasts",
  "synonyms",
  // As a recogniser writes it, and as it is said: "dont", and before a number "its".
  "contractions",
  "beforeNumber",
  // The end of a word that is a word: "'s" is "is".
  "clitics",
  "mirror",
  "irregular",
  "ties",
  "fixings",
] as const;
export type Maps = (typeof MAPS)[number];

export const COLUMNS = ["label", "kind", "position", "count", "joins", "time", "hardware", "torque"] as const;
export type Column = (typeof COLUMNS)[number];

/** What a draft is written in. `{}` stands for a name. */
export const LABELS = [
  "name",
  "vehicle",
  "assembly",
  "remove",
  "on",
  "to",
  "from",
  "near",
  "nearThe",
  "bolt",
  "bolts",
  "fluid",
  "drain",
  "vent",
  "ventOf",
  "raise",
  "lower",
  "support",
  "sling",
  "lift",
  "tilt",
  "chock",
  "bleed",
  "isolate",
] as const;
export type Labels = (typeof LABELS)[number];

/** How the forms of a language are made, where no library makes them. */
export interface Endings {
  /** Plurals that no rule makes, by the singular; then ending by ending, the first that fits. */
  readonly plurals?: Readonly<Record<string, string>>;
  readonly plural?: readonly (readonly [string, string])[];
  /** What cases add to a singular and to a plural. */
  readonly singularCases?: readonly string[];
  readonly pluralCases?: readonly string[];
  /** The end of a verb's lemma, and what stands there in its other forms. */
  readonly verb?: readonly (readonly [string, readonly string[]])[];
  readonly participle?: readonly (readonly [string, string])[];
  /** What a participle begins with, except after these beginnings of a verb. */
  readonly participlePrefix?: string;
  readonly unprefixed?: readonly string[];
  /** Verbs are written in one with their particle where they end a clause; what may stand between. */
  readonly separable?: string;
  /** The finite verb is the second thing of a clause, so what was named before it is its object. */
  readonly verbSecond?: boolean;
  /** What an adjective ends in. */
  readonly adjective?: readonly string[];
  /** Nouns are written in one; letters that may stand between them. */
  readonly compounds?: readonly string[];
  /** Between the unit and the tens of a number in one word. */
  readonly tens?: string;
  /** Nouns have a capital letter. */
  readonly capitals?: boolean;
  /** Ends of words that are nouns, and of words that name nothing. */
  readonly nouns?: readonly string[];
  readonly unnamed?: readonly string[];
}

/** A language's file. What it leaves out is empty. */
export type Words = { readonly [K in Sets]?: readonly string[] } & {
  readonly [K in Maps]?: Readonly<Record<string, string>>;
} & {
  readonly language: string;
  readonly code: string;
  /** The library that makes its forms, or the rules. */
  readonly forms: "compromise" | Endings;
  readonly numbers?: Readonly<Record<string, number>>;
  readonly tens?: Readonly<Record<string, number>>;
  readonly homophones?: Readonly<Record<string, number>>;
  readonly covers?: readonly string[];
  readonly parts?: readonly string[];
  readonly assemblies?: readonly string[];
  readonly fixed?: readonly string[];
  /** What a verb does by its particle, "" for none. */
  readonly verbs?: Readonly<Record<string, Readonly<Record<string, string>>>>;
  readonly positions?: Readonly<
    Record<string, { readonly label: string; readonly opposite?: string; readonly said: readonly string[] }>
  >;
  readonly labels?: { readonly [K in Labels]?: string };
  /** The sentences that a draft says by itself; English where there is none. */
  readonly says?: { readonly [K in Says]?: string };
  readonly columns?: { readonly [K in Column]?: readonly string[] };
};
