// Owns the kinds of entry: what each says, in which fields. Types, reader, JSON Schema and command line are all made from this one table.

/**
 * The fields of a kind, by the sort of their value; `?` at the end: may be left out; `a|b`: one of these words.
 *
 * id: an id of the vehicle file. person: an id. people: ids. word: a name of up to 200 letters. text: up to 4,000. count: 1 or more, whole.
 * numbers: whole ones from 1. torque, force, angle, length, volume, time: as it was read, with its unit. amounts: a volume of each fluid. photos, voices: SHA-256 of each photo, of each
 * spoken note. entry: the id of another entry. flag: true.
 */
export const KINDS = {
  isolated: {
    says: "an energy is shut off and proved dead",
    fields: { energy: "word", key: "person", proved: "text?" },
  },
  restored: { says: "an energy is on again", fields: { energy: "word" } },
  assigned: {
    says: "what somebody is to do of a plan, in this order, by the numbers of its steps; in place of what he was told before",
    fields: { person: "person", plan: "word", steps: "numbers" },
  },
  begun: { says: "work on it begins", fields: { at: "id", people: "people?" } },
  paused: {
    says: "work stands still, and why",
    fields: { cause: "waiting|fetching|break|other", about: "id?", text: "text?" },
  },
  resumed: { says: "work goes on", fields: { about: "id?" } },
  "match marked": { says: "both halves are marked before they are parted", fields: { at: "id" } },
  loosened: { says: "loosened, nothing taken away", fields: { at: "id", way: "word?" } },
  released: { says: "released", fields: { at: "id", way: "word?", photos: "photos?" } },
  verified: {
    says: "looked at by a second person: found loose, or found made",
    fields: { at: "id", found: "loose|made", photos: "photos?" },
  },
  plugged: { says: "every end is closed as the file asks", fields: { at: "id" } },
  unplugged: { says: "what closed the ends is out again", fields: { at: "id" } },
  "hung aside": { says: "a part is strapped out of the way", fields: { part: "id", to: "id" } },
  "set aside": { says: "a part lies somewhere by itself", fields: { part: "id", place: "text" } },
  "brought back": { says: "a part is where it belongs again", fields: { part: "id" } },
  "in place": { says: "put together, fasteners not yet drawn up", fields: { at: "id" } },
  snug: { says: "drawn up by hand", fields: { at: "id" } },
  torqued: {
    says: "tightened to this torque with this tool",
    fields: { at: "id", torque: "torque", tool: "word", turn: "angle?" },
  },
  "torque value": {
    says: "the torque as a second person reads it, without having seen the first",
    fields: { at: "id", torque: "torque", tool: "word" },
  },
  locked: { says: "locked: split pin, wire, tab, paste", fields: { at: "id", with: "text?" } },
  marked: { says: "marked after tightening", fields: { at: "id" } },
  refitted: { says: "made again, nothing left to do on it", fields: { at: "id", photos: "photos?" } },
  counted: {
    says: "pieces of hardware that came out, or went back in",
    fields: { at: "id", item: "word", count: "count", way: "out|in" },
  },
  "put in": { says: "a temporary thing is in the vehicle", fields: { item: "word", count: "count", at: "id?" } },
  "taken out": { says: "a temporary thing is out again", fields: { item: "word", count: "count", at: "id?" } },
  "tool out": { says: "a tool is at the vehicle", fields: { tool: "word", count: "count" } },
  "tool in": { says: "a tool is back in its place", fields: { tool: "word", count: "count" } },
  done: {
    says: "a task is done, a state of the vehicle is on, a test is passed",
    fields: { task: "id", reading: "text?" },
  },
  undone: { says: "a state of the vehicle is off again, a task has been returned", fields: { task: "id" } },
  failed: { says: "a test or an adjustment was not passed", fields: { task: "id", reading: "text" } },
  drained: { says: "a task is done that drains, and how much came out", fields: { task: "id", amounts: "amounts" } },
  filled: {
    says: "what was drained is filled again, and how much went in",
    fields: { task: "id", amounts: "amounts" },
  },
  claimed: { says: "somebody is at a position, or works on a system", fields: { place: "id?", system: "word?" } },
  left: { says: "and is away from it", fields: { place: "id?", system: "word?" } },
  finding: {
    says: "something is not as it should be",
    fields: {
      what: "sheared|seized|out of reach|tool missing|person gone|damaged|other",
      text: "text",
      about: "id?",
      way: "word?",
      takes: "time?",
      tool: "word?",
      person: "person?",
      photos: "photos?",
      voices: "voices?",
    },
  },
  closed: { says: "a finding is dealt with", fields: { finding: "entry", how: "text" } },
  "left open": { says: "a finding goes over to the user in writing", fields: { finding: "entry", to: "text" } },
  "as found": {
    says: "this machine differs from the file, and will next time",
    fields: { about: "id", text: "text", photos: "photos?" },
  },
  note: { says: "a remark", fields: { text: "text", about: "id?", photos: "photos?", voices: "voices?" } },
  trial: {
    says: "what cell and level say with the load just off",
    fields: { lift: "id", load: "force", pitch: "angle?", roll: "angle?", rise: "length?" },
  },
  approval: {
    says: "a named person approves a gate on the plan he names",
    fields: {
      gate: "lift|start-up|hand-over",
      plan: "word",
      lift: "id?",
      signaller: "person?",
      text: "text?",
    },
  },
  confirmed: { says: "the store that has seen everything takes an approval", fields: { approval: "entry" } },
  override: {
    says: "the competent person passes the lift gate without the store, and why",
    fields: { lift: "id", reason: "text" },
  },
  passed: {
    says: "a gate was found open and gone through",
    fields: { gate: "isolation|lift|start-up|hand-over", lift: "id?", offline: "flag?" },
  },
  "handing over": { says: "the shift goes over to somebody", fields: { to: "person" } },
  "taken over": { says: "and he takes it", fields: { from: "person" } },
  "plan replaced": {
    says: "another plan holds from now on",
    fields: { plan: "word", because: "text", finding: "entry?" },
  },
  correction: { says: "an entry was wrong and counts no more", fields: { of: "entry", why: "text" } },
  settled: { says: "how a contradiction was settled", fields: { contradiction: "word", how: "text" } },
} as const satisfies Readonly<
  Record<string, { readonly says: string; readonly fields: Readonly<Record<string, string>> }>
>;

type Kinds = typeof KINDS;
export type Kind = keyof Kinds;

type Words<F> = F extends `${infer One}|${infer Rest}` ? One | Words<Rest> : F;
type Value<F> = F extends `${infer Sort}?`
  ? Value<Sort>
  : F extends `${string}|${string}`
    ? Words<F>
    : F extends "count"
      ? number
      : F extends "people" | "photos" | "voices"
        ? readonly string[]
        : F extends "numbers"
          ? readonly number[]
          : F extends "amounts"
            ? Readonly<Record<string, string>>
            : F extends "flag"
              ? true
              : string;
type Fields<K extends Kind> = Kinds[K]["fields"];
type Optional<K extends Kind> = {
  [F in keyof Fields<K>]: Fields<K>[F] extends `${string}?` ? F : never;
}[keyof Fields<K>];

/** What an entry of one kind says. */
export type BodyOf<K extends Kind> = { readonly kind: K } & {
  readonly [F in Exclude<keyof Fields<K>, Optional<K>>]: Value<Fields<K>[F]>;
} & { readonly [F in Optional<K>]?: Value<Fields<K>[F]> };

/** What an entry says: one of the kinds, told apart by `kind`. */
export type Body = { [K in Kind]: BodyOf<K> }[Kind];

export const isKind = (text: string): text is Kind => Object.hasOwn(KINDS, text);
