// Owns what was told so far, and what was spoken of last: the ground on which the next words are understood.

import type { Kind } from "../vehicle/index.ts";
import type { Chunk } from "./chunk.ts";
import { type Clause, clauseFrom } from "./clause.ts";
import type { Off, PositionTold, Source, Tie, Told } from "./item.ts";
import type { Language, PositionName } from "./language.ts";
import { Ids, keyOf } from "./names.ts";
import type { Phrase } from "./phrase.ts";
import type { Word } from "./spoken.ts";

export const isTie = (ref: Tie | Off): ref is Tie => "kind" in ref;

export class Memory {
  readonly told: Told = { ties: [], parts: [], tasks: [], positions: [], closings: [], bothSides: [], twoNames: [] };
  readonly words: readonly Word[];
  readonly chunks: readonly Chunk[];
  readonly language: Language;
  readonly ids = new Ids();
  /** Where the teller stands. */
  here: PositionName | undefined;
  /** How many connections had been told when somebody came there. */
  arrived = 0;
  /** Ids of the positions that somebody went to. */
  readonly stood = new Set<string>();
  /** What was spoken of last, the latest at the end. */
  focus: (Tie | Off)[] = [];
  clause: Clause = clauseFrom(0);
  /** A thing of no known name that was named last, and is nothing of ours until something is done to it. */
  latent: { readonly phrase: Phrase; readonly source: Source } | undefined;
  /** Where a part was taken off: the wheel on the other side is another one. */
  readonly partAt = new Map<Off, string | undefined>();
  /** What was named in the clause before. */
  prior: (Tie | Off)[] = [];
  /** What was spoken of in this sentence. */
  touched = new Set<Tie | Off>();
  /** And in the one before. */
  touchedBefore = new Set<Tie | Off>();
  /** The ties of this sentence, and of the one before: for "same on the other side". */
  sentence: Tie[] = [];
  lately: Tie[] = [];
  closedJustNow = false;
  /** Hardware that was named by itself: "four bolts". */
  readonly bare = new Set<Tie>();
  /** How many of the thing itself there are, where its hardware is counted: three cables of two bolts each. */
  readonly things = new Map<Tie, number>();
  /** How many of it were told place by place. */
  readonly shares = new Map<Tie, number>();
  /** Told to be on both sides, and undone on one by name. */
  readonly oneSide = new Set<Tie>();
  readonly keys = new Map<Tie, string>();
  readonly byKey = new Map<string, Tie[]>();
  readonly #partsByKey = new Map<string, Off[]>();
  readonly #byId = new Map<string, Tie>();

  constructor(words: readonly Word[], chunks: readonly Chunk[], language: Language) {
    this.words = words;
    this.chunks = chunks;
    this.language = language;
  }

  source(from: number, to: number): Source {
    const word = this.words[from];
    const until = Math.max(to, from + 1);
    const passage = word?.passage;
    return {
      file: passage?.file ?? "",
      line: passage?.line ?? 1,
      ...(passage?.cue === undefined ? {} : { cue: passage.cue }),
      ...(passage?.time === undefined ? {} : { time: passage.time }),
      words: this.words
        .slice(from, until)
        .map(({ text }) => text)
        .join(" "),
    };
  }

  callBy(tie: Tie, key: string): void {
    this.keys.set(tie, key);
    const alike = this.byKey.get(key);
    if (alike === undefined) this.byKey.set(key, [tie]);
    else if (!alike.includes(tie)) alike.push(tie);
  }

  lastTie(): Tie | undefined {
    return this.focus.findLast(isTie);
  }

  look(ref: Tie | Off): void {
    this.latent = undefined;
    this.touched.add(ref);
    this.focus = [...this.focus.filter((one) => one !== ref).slice(-7), ref];
  }

  /** Hardware that was named by itself: "four bolts". */
  isBare(tie: Tie): boolean {
    return this.bare.has(tie);
  }

  recent(tie: Tie): boolean {
    return this.told.ties.at(-1) === tie || this.told.ties.at(-2) === tie;
  }

  addTie(label: string, kind: Kind, words: readonly string[], source: Source | undefined): Tie {
    const tie: Tie = {
      id: this.ids.make(label),
      label,
      kind,
      ...(this.here === undefined ? {} : { at: this.here.id }),
      undone: false,
      joins: [],
      sure: 0.6,
      assumed: [],
      sources: source === undefined ? [] : [source],
    };
    this.#byId.set(tie.id, tie);
    this.callBy(tie, keyOf(words, this.language));
    this.told.ties.push(tie);
    this.sentence.push(tie);
    this.look(tie);
    this.closedJustNow = false;
    return tie;
  }

  tieOf(id: string): Tie | undefined {
    return this.#byId.get(id);
  }

  /** The connections that hold a part, in the order told. */
  holding({ by }: Off): readonly Tie[] {
    const ties = [...new Set(by)].flatMap((id) => this.#byId.get(id) ?? []);
    const { ties: all } = this.told;
    return ties.length < 2 ? ties : ties.sort((a, b) => all.indexOf(a) - all.indexOf(b));
  }

  /** Calls a connection by another name, with the id that goes with it. @returns the id it had */
  rename(tie: Tie, label: string): string {
    const old = tie.id;
    this.ids.free(old);
    this.#byId.delete(old);
    tie.label = label;
    tie.id = this.ids.make(label);
    this.#byId.set(tie.id, tie);
    return old;
  }

  /** A part that was not told before. */
  addPart(part: Off): void {
    this.told.parts.push(part);
    const key = keyOf(part.label.toLowerCase().split(" "), this.language);
    const alike = this.#partsByKey.get(key);
    if (alike === undefined) this.#partsByKey.set(key, [part]);
    else alike.push(part);
  }

  /** The parts of this key, in the order told. */
  partsCalled(key: string): readonly Off[] {
    return this.#partsByKey.get(key) ?? [];
  }

  forget(tie: Tie): void {
    this.keys.delete(tie);
    const { ties, parts, tasks, closings } = this.told;
    const at = ties.indexOf(tie);
    ties.splice(at, 1);
    // So many had been told without it.
    for (const one of [...tasks, ...closings]) if (one.after > at) one.after -= 1;
    for (const { by } of parts) if (by.includes(tie.id)) by.splice(by.indexOf(tie.id), 1);
    this.focus = this.focus.filter((one) => one !== tie);
    this.sentence = this.sentence.filter((one) => one !== tie);
    this.ids.free(tie.id);
    this.#byId.delete(tie.id);
  }

  /** It stays on: what was only named is nothing of ours. */
  spare(ref: Tie | Off): void {
    if (isTie(ref)) {
      // "The upper bolt stays.": hardware that was only just named.
      const isNamed = ref.hardware === undefined ? ref.sources.length <= 2 : !ref.undone && ref.sources.length === 1;
      if (ref.verb === undefined && isNamed) this.forget(ref);
      return;
    }
    for (const tie of this.holding(ref).filter(({ hardware, assumed }) => hardware === undefined && assumed.length > 0))
      this.forget(tie);
    ref.removed = false;
  }

  /** The same thing, told before: by its key, here, unless another one is meant. */
  find(key: string, phrase: Phrase, definite: boolean): Tie | undefined {
    if (phrase.more) return undefined;
    return (this.byKey.get(key) ?? []).findLast(
      (one) =>
        this.keys.get(one) === key &&
        !this.differ(phrase.words, one.label.toLowerCase().split(/[^\p{L}]+/u)) &&
        (one.at === this.here?.id || (definite && !one.undone)),
    );
  }

  /** Whether two names are told apart: the big hose and the small one. */
  differ(a: readonly string[], b: readonly string[]): boolean {
    const { contrasts } = this.language;
    return a.some((word) => {
      const by = contrasts.get(word);
      return by !== undefined && !b.includes(word) && b.some((other) => contrasts.get(other) === by);
    });
  }

  /** Whether its name says that there are several. */
  isPlural(tie: Tie): boolean {
    const { on, to, from, near } = this.language.labels;
    const words = tie.label.toLowerCase().split(" ");
    const end = words.findIndex((word, i) => i > 0 && [on, to, from, near].includes(word));
    const last = words.at(end - 1 < 0 ? -1 : end - 1) ?? "";
    return this.language.singular(last) !== last;
  }

  /** "that's the front done": where all that was told without a place was. */
  haveBeen(name: PositionName): void {
    const { id } = this.position(name);
    this.stood.add(id);
    for (const tie of this.told.ties) tie.at ??= id;
  }

  position(name: PositionName): PositionTold {
    const known = this.told.positions.find(({ id }) => id === name.id);
    if (known !== undefined) return known;
    const position: PositionTold = { id: name.id, label: name.label, closed: [] };
    this.ids.take(name.id);
    this.told.positions.push(position);
    return position;
  }
}
