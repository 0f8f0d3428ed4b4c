// Owns the listening: chunk by chunk, with what was spoken of last in mind, to connections, parts, tasks and positions.

import { KINDS, type Kind } from "../vehicle/index.ts";
import type { Chunk } from "./chunk.ts";
import type { Off, PositionTold, Source, Tie, Told, Verb } from "./item.ts";
import type { Language, Noun, PositionName } from "./language.ts";
import { capital, Ids, keyOf, labelOf, naming } from "./names.ts";
import type { Phrase } from "./phrase.ts";
import type { Word } from "./spoken.ts";

/** What is done to one thing in one breath. */
interface Clause {
  verb?: { readonly act: Verb; readonly lemma: string };
  /** Things named since the clause began, the verb's or not. */
  readonly refs: (Tie | Off)[];
  there: boolean;
  corrects: boolean;
  /** Not ours: a warning, a negation, the way back; of a task only its own words. */
  skip: boolean;
  task: boolean;
  /** "each held by": the number is of each. */
  each: boolean;
  held: boolean;
  /** "that's four bolts": of what was just named. */
  of: boolean;
  leave: boolean;
  /** A particle after the thing: "the hose off". */
  undone: boolean;
  from: number;
}

const isTie = (ref: Tie | Off): ref is Tie => "kind" in ref;
const kindOf = (kind: string): Kind => KINDS.find((one) => one === kind) ?? "bolted joint";
const ACTS: readonly string[] = ["disconnect", "loosen", "remove", "free"];
/** What a battery or a motor is, when it is said to be disconnected. */
const FED: Readonly<Record<string, Kind>> = {
  battery: "cable",
  starter: "cable",
  "starter motor": "cable",
  motor: "cable",
  inverter: "cable",
  charger: "cable",
  generator: "cable",
};

export class Hearing {
  readonly told: Told = { ties: [], parts: [], tasks: [], positions: [], closings: [], bothSides: [], twoNames: [] };
  readonly #words: readonly Word[];
  readonly #chunks: readonly Chunk[];
  readonly #language: Language;
  readonly ids = new Ids();
  #here: PositionName | undefined;
  /** What was spoken of last, the latest at the end. */
  #focus: (Tie | Off)[] = [];
  #clause: Clause;
  /** The ties of the sentence before, for "same on the other side". */
  #lately: Tie[] = [];
  #told: Tie[] = [];
  #closedJustNow = false;
  /** What was named in the clause before. */
  #prior: (Tie | Off)[] = [];
  readonly #keys = new Map<Tie, string>();
  readonly #byKey = new Map<string, Tie[]>();

  constructor(words: readonly Word[], chunks: readonly Chunk[], language: Language) {
    this.#words = words;
    this.#chunks = chunks;
    this.#language = language;
    this.#clause = this.#fresh(0);
  }

  /** Hears everything, once. */
  hear(): Told {
    const assembly = this.#mostNamed();
    if (assembly !== undefined) this.told.assembly = assembly;
    for (let i = 0; i < this.#chunks.length; i += 1) {
      const chunk = this.#chunks[i];
      if (chunk === undefined) break;
      if (chunk.pause >= 2) this.#end(chunk.from, true);
      i += this.#take(chunk, i);
    }
    this.#end(this.#words.length, true);
    return this.told;
  }

  /** The assembly that is named most, most of all where it is said to come free. */
  #mostNamed(): string | undefined {
    const votes = new Map<string, number>();
    this.#chunks.forEach((chunk, i) => {
      if (chunk.is !== "phrase" || chunk.phrase.noun === undefined || /housing|block/.test(chunk.phrase.noun.name))
        return;
      const { role } = chunk.phrase.noun;
      if (role !== "assembly" && role !== "part") return;
      const near = this.#chunks.slice(Math.max(0, i - 2), i + 3);
      const freed = near.some(
        (one) =>
          (one.is === "sign" && one.sign === "final") || (one.is === "task" && ["lift", "ready"].includes(one.does)),
      );
      // "this is how I take the pump out": before anything is told, what the talk is of.
      const opening =
        i < 8 &&
        Array.from({ length: chunk.from }, (_, k) => k).some(
          (k) => this.#language.set.intro.at(this.#words, k) !== undefined,
        );
      if (role === "part" && !freed && !opening) return;
      const name = naming(chunk.phrase.words).join(" ");
      votes.set(name, (votes.get(name) ?? 0) + (freed ? 4 : opening ? 3 : 1));
    });
    return [...votes].sort((a, b) => b[1] - a[1])[0]?.[0];
  }

  #fresh(from: number): Clause {
    return {
      refs: [],
      there: false,
      corrects: false,
      skip: false,
      task: false,
      each: false,
      held: false,
      of: false,
      leave: false,
      undone: false,
      from,
    };
  }

  /** Closes the clause: what was only named in it and had no verb is taken as undone when it stands alone. */
  #end(at: number, sentence = false): void {
    const { verb, refs, there, undone, skip, corrects } = this.#clause;
    if (!skip && verb === undefined && !corrects)
      for (const ref of refs)
        if (
          isTie(ref) &&
          (!there ||
            undone ||
            (ref.hardware !== undefined &&
              ref.count !== undefined &&
              !this.#isBare(ref) &&
              !this.told.bothSides.some(({ tie }) => tie === ref))) &&
          !ref.undone
        )
          this.#undo(ref, undefined, undone ? 0.85 : 0.7);
        else if (!isTie(ref) && undone) this.#remove(ref, "remove");
    if (refs.length > 0) this.#prior = [...refs];
    this.#clause = this.#fresh(at);
    if (sentence) {
      if (this.#told.length > 0) this.#lately = this.#told;
      this.#told = [];
    }
  }

  /** Takes one chunk; gives how many after it were taken with it. */
  #take(chunk: Chunk, i: number): number {
    const clause = this.#clause;
    const next = this.#chunks[i + 1];
    switch (chunk.is) {
      case "verb":
        return this.#takeVerb(chunk, i);
      case "phrase": {
        // "unhook it from the lever": where it comes from, and nothing that is undone.
        if (this.#chunks[i - 1]?.is === "link") return 0;
        const taken = this.#attachments(i);
        const ref = clause.skip ? undefined : this.#name(chunk.phrase, taken.phrases, chunk, clause);
        if (ref !== undefined) clause.refs.push(ref);
        return taken.length;
      }
      case "pronoun":
        if (!clause.skip) this.#pronoun(chunk, i);
        return 0;
      case "another": {
        const last = this.#lastTie();
        if (last !== undefined && !clause.skip && next?.is !== "phrase")
          last.count =
            last.hardware === undefined && !this.#isPlural(last) && chunk.count > 1
              ? chunk.count
              : (last.count ?? 1) + chunk.count;
        // Where the other one is does not move us.
        return next?.is === "place" ? 1 : 0;
      }
      case "number":
        return this.#number(chunk.value, i);
      case "torque": {
        const last = this.#lastTie();
        if (last !== undefined) last.torque = chunk.text;
        return 0;
      }
      case "place":
        return this.#place(chunk, i);
      case "move":
        this.#end(chunk.from);
        return 0;
      case "is":
        if (clause.verb !== undefined) this.#end(chunk.from);
        this.#clause.there = true;
        this.#clause.of = true;
        return 0;
      case "each":
        return 0;
      case "particle":
        if (["off", "out", "loose", "free", "undone", "apart", "away"].includes(chunk.particle)) clause.undone = true;
        return 0;
      case "then":
        this.#end(chunk.from);
        return 0;
      case "task":
        this.#end(chunk.from);
        this.#task(chunk.does, chunk);
        this.#clause.skip = true;
        this.#clause.task = true;
        return 0;
      case "sign":
        return this.#sign(chunk, i);
      case "link":
        return 0;
    }
  }

  #takeVerb(chunk: Chunk & { is: "verb" }, i: number): number {
    const clause = this.#clause;
    if (!ACTS.includes(chunk.act)) {
      this.#end(chunk.from);
      this.#task(chunk.act, chunk);
      this.#clause.skip = true;
      this.#clause.task = chunk.act !== "back";
      return 0;
    }
    if (clause.skip && !clause.task && chunk.pause === 0) return 0;
    const verb = { act: chunk.act as Verb, lemma: chunk.lemma };
    const before = clause.refs;
    const taken = this.#objectFollows(i);
    // "the two hoses come off": what was named is what is done to, where nothing follows.
    if (!taken && before.length > 0 && clause.verb === undefined && !chunk.negated) {
      for (const ref of before)
        if (isTie(ref)) this.#undo(ref, verb, 0.9);
        else this.#remove(ref, verb.act);
      clause.verb = verb;
      return 0;
    }
    if (clause.verb === undefined && before.length > 0) clause.there = true;
    const { corrects } = clause;
    this.#end(chunk.from);
    this.#clause.verb = verb;
    this.#clause.corrects = corrects;
    this.#clause.skip = chunk.negated;
    return 0;
  }

  /** Whether the verb has its object after it, before anything that ends the clause. */
  #objectFollows(i: number): boolean {
    for (let k = i + 1; k < this.#chunks.length && k < i + 5; k += 1) {
      const chunk = this.#chunks[k];
      if (chunk === undefined || chunk.pause >= 2) return false;
      if (chunk.is === "phrase") return chunk.pause === 0 || k === i + 1;
      if (chunk.is === "pronoun") return chunk.pause === 0;
      if (chunk.is !== "particle") return false;
    }
    return false;
  }

  /** The phrases that belong to the one at `i`: "on the bell housing", "from the pump to the tank". */
  #attachments(i: number): { readonly phrases: readonly { link: string; phrase: Phrase }[]; readonly length: number } {
    const phrases: { link: string; phrase: Phrase }[] = [];
    let k = i + 1;
    for (;;) {
      const a = this.#chunks[k];
      if (a === undefined || a.pause >= 2) break;
      // A particle between: "pull the hose off of the stub".
      const link = a.is === "link" ? a : a.is === "place" && a.placed.local ? a : undefined;
      if (link === undefined) break;
      let b = this.#chunks[k + 1];
      let skip = 1;
      if (link.is === "place" && b?.is === "link") {
        b = this.#chunks[k + 2];
        skip = 2;
      }
      if (b?.is !== "phrase" || b.pause >= 2) break;
      phrases.push({ link: link.is === "link" ? link.link : "near", phrase: b.phrase });
      k += skip + 1;
      const and = this.#words[b.to];
      const joined = this.#chunks[k];
      // "between the pump and the tank"
      if (
        link.is === "link" &&
        and?.text === "and" &&
        joined?.is === "phrase" &&
        joined.from === b.to + 1 &&
        this.#words[link.from]?.text === "between"
      ) {
        phrases.push({ link: "to", phrase: joined.phrase });
        k += 1;
      }
    }
    return { phrases, length: k - i - 1 };
  }

  #source(from: number, to: number): Source {
    const word = this.#words[from];
    const until = Math.max(to, from + 1);
    const passage = word?.passage;
    return {
      file: passage?.file ?? "",
      line: passage?.line ?? 1,
      ...(passage?.cue === undefined ? {} : { cue: passage.cue }),
      ...(passage?.time === undefined ? {} : { time: passage.time }),
      words: this.#words
        .slice(from, until)
        .map(({ text }) => text)
        .join(" "),
    };
  }

  #callBy(tie: Tie, key: string): void {
    this.#keys.set(tie, key);
    const alike = this.#byKey.get(key);
    if (alike === undefined) this.#byKey.set(key, [tie]);
    else if (!alike.includes(tie)) alike.push(tie);
  }

  #lastTie(): Tie | undefined {
    return this.#focus.findLast(isTie);
  }

  #look(ref: Tie | Off): void {
    this.#focus = [...this.#focus.filter((one) => one !== ref).slice(-7), ref];
  }

  #undo(tie: Tie, verb: Clause["verb"], sure: number): void {
    tie.undone = true;
    if (verb !== undefined && (tie.verb === undefined || tie.verb === "loosen")) tie.verb = verb.act;
    tie.sure = Math.max(tie.sure, sure);
  }

  #remove(part: Off, act: Verb): void {
    if (act === "loosen") return;
    part.removed = true;
    for (const id of part.by) {
      const tie = this.told.ties.find((one) => one.id === id);
      if (tie !== undefined && !tie.undone) this.#undo(tie, undefined, 0.75);
    }
    // "four bolts, and the starter comes out": bolts of nothing yet are its own.
    const loose = this.#lastTie();
    if (part.by.length === 0 && loose !== undefined && this.#isBare(loose) && this.#recent(loose)) {
      this.#belong(loose, part);
      this.#undo(loose, undefined, 0.75);
    }
    if (part.by.length === 0) {
      const tie = this.#addTie(part.label, "bolted joint", [part.label.toLowerCase()], part.sources.at(-1));
      tie.assumed.push("what holds it was not said");
      tie.sure = 0.55;
      tie.verb = act;
      tie.undone = true;
      tie.joins.push(part.label.toLowerCase());
      part.by.push(tie.id);
      this.#look(part);
    }
  }

  /** Hardware that was named by itself: "four bolts". */
  #isBare(tie: Tie): boolean {
    return this.#bare.has(tie);
  }
  readonly #bare = new Set<Tie>();

  #recent(tie: Tie): boolean {
    return this.told.ties.at(-1) === tie || this.told.ties.at(-2) === tie;
  }

  /** Hardware of nothing yet turns out to hold a part. */
  #belong(tie: Tie, part: Off): void {
    this.#bare.delete(tie);
    this.ids.free(tie.id);
    tie.label = `${part.label} ${tie.label.toLowerCase()}`;
    const id = this.ids.make(tie.label);
    tie.id = id;
    tie.joins.push(part.label.toLowerCase());
    this.#callBy(tie, keyOf(tie.label.toLowerCase().split(" "), this.#language));
    part.by.push(id);
  }

  #addTie(label: string, kind: Kind, words: readonly string[], source: Source | undefined): Tie {
    const tie: Tie = {
      id: this.ids.make(label),
      label,
      kind,
      ...(this.#here === undefined ? {} : { at: this.#here.id }),
      undone: false,
      joins: [],
      sure: 0.6,
      assumed: [],
      sources: source === undefined ? [] : [source],
    };
    this.#callBy(tie, keyOf(words, this.#language));
    this.told.ties.push(tie);
    this.#told.push(tie);
    this.#look(tie);
    this.#closedJustNow = false;
    return tie;
  }

  /** What a phrase stands for here: a connection, a part, or nothing of ours. */
  #name(
    phrase: Phrase,
    attached: readonly { link: string; phrase: Phrase }[],
    chunk: Chunk,
    clause: Clause,
  ): Tie | Off | undefined {
    const { noun } = phrase;
    const said = phrase.words.join(" ");
    const last = phrase.words.at(-1) ?? "";
    const nothing = (text: string) =>
      this.#language.set.nothings.at(
        text.split(" ").map((word) => ({ text: word })),
        0,
      )?.value === text;
    if (nothing(said) || (noun === undefined && (nothing(last) || nothing(this.#language.singular(last)))))
      return undefined;
    // "now the drain plug": work, and nothing that ties.
    const task = this.#language.tasks.at(
      naming(phrase.words).map((text) => ({ text })),
      0,
    );
    if (task !== undefined) {
      this.#task(task.value, chunk);
      return undefined;
    }
    const source = this.#source(clause.from, Math.max(chunk.to, attached.at(-1)?.phrase.to ?? 0));
    const hostOf = attached.find(
      ({ link, phrase: host }) => ["on", "of", "from"].includes(link) && host.noun !== undefined,
    )?.phrase;

    if (clause.corrects && this.#correct(phrase, clause)) return this.#lastTie();
    const verb = clause.verb;
    if (noun === undefined) {
      if (
        verb === undefined ||
        this.#language.set.strong.at([{ text: verb.lemma }], 0) === undefined ||
        phrase.words.length > 4
      )
        return undefined;
      if (["remove", "take", "unbolt", "unscrew"].includes(verb.lemma))
        return this.#offOrUnplugged(phrase, clause, source);
      const kind = kindOf(this.#language.verbKinds.get(verb.lemma) ?? "clip");
      const tie = this.#tie(labelOf(phrase), kind, phrase, phrase.words, source, attached);
      tie.assumed.push(`${phrase.words.join(" ")} is no word of the lists; its kind is a guess`);
      this.#undo(tie, verb, 0.5);
      return tie;
    }
    if (noun.role === "fixing") return this.#fixing(phrase, hostOf, attached, source, clause);
    if (noun.role === "tie" || noun.role === "cover") {
      const tie = this.#namedTie(phrase, attached, source, clause);
      if (verb !== undefined) this.#undo(tie, verb, noun.role === "tie" ? 0.95 : 0.9);
      if (noun.role === "cover") this.#cover(tie, clause, source);
      return tie;
    }
    return this.#offOrUnplugged(phrase, clause, source);
  }

  #cover(tie: Tie, clause: Clause, source: Source): void {
    let part = this.told.parts.find(({ by }) => by.includes(tie.id));
    if (part === undefined) {
      part = { id: "", label: tie.label, by: [tie.id], removed: false, cover: true, sources: [source] };
      this.told.parts.push(part);
    }
    if (clause.verb !== undefined && clause.verb.act !== "loosen") part.removed = true;
  }

  /** A part as the object of a verb: taken off, or its plug pulled. */
  #offOrUnplugged(phrase: Phrase, clause: Clause, source: Source): Tie | Off | undefined {
    const { verb } = clause;
    const name = labelOf(phrase);
    const role = phrase.noun?.role;
    if (
      verb !== undefined &&
      (verb.lemma === "unplug" || verb.act === "disconnect") &&
      verb.lemma !== "undo" &&
      verb.lemma !== "separate" &&
      verb.lemma !== "split" &&
      verb.lemma !== "pull" &&
      verb.lemma !== "release" &&
      role !== "assembly"
    ) {
      const kind =
        verb.lemma === "unplug" ? "wire" : (FED[phrase.noun?.name ?? ""] ?? (role === undefined ? "clip" : "wire"));
      const tie = this.#tie(name, kind, phrase, [...phrase.words, kind], source, []);
      this.#undo(tie, verb, 0.8);
      if (!tie.joins.includes(name.toLowerCase())) tie.joins.push(name.toLowerCase());
      return tie;
    }
    if (
      role === "assembly" &&
      !(verb?.act === "remove" && this.told.assembly !== undefined && !this.#isAssembly(phrase.words))
    ) {
      if (verb !== undefined && ["separate", "split", "unbolt", "uncouple"].includes(verb.lemma)) {
        const tie = this.#tie(name, "bolted joint", phrase, phrase.words, source, []);
        this.#undo(tie, verb, 0.6);
        return tie;
      }
      return undefined;
    }
    if (this.told.assembly !== undefined && this.#isAssembly(phrase.words)) return undefined;
    const key = keyOf(phrase.words, this.#language);
    let part = this.told.parts.find(
      (one) => keyOf(one.label.toLowerCase().split(" "), this.#language) === key && !phrase.more,
    );
    if (part === undefined) {
      if (verb === undefined && role === "fixed") return undefined;
      part = { id: "", label: name, by: [], removed: false, cover: false, sources: [] };
      this.told.parts.push(part);
    }
    part.sources.push(source);
    this.#look(part);
    if (verb !== undefined) {
      if (["unbolt", "unscrew"].includes(verb.lemma) && part.by.length === 0) {
        const tie = this.#tie(
          `${part.label} bolts`,
          "bolted joint",
          { ...phrase, plural: true },
          [...phrase.words, "bolt"],
          source,
          [],
        );
        delete tie.count;
        part.by.push(tie.id);
        tie.joins.push(part.label.toLowerCase());
        this.#undo(tie, verb, 0.8);
        this.#look(part);
      } else this.#remove(part, verb.act);
    }
    return part;
  }

  /** A connection with a name of its own: hose, cable, mount, cover. */
  #namedTie(
    phrase: Phrase,
    attached: readonly { link: string; phrase: Phrase }[],
    source: Source,
    clause: Clause,
  ): Tie {
    const noun = phrase.noun;
    const words = naming(phrase.words);
    const vague = words.length <= (noun?.name.split(" ").length ?? 1);
    // "the hose" after "the top hose is next": the one that was just named.
    const lately = this.#focus.at(-1);
    if (
      vague &&
      noun !== undefined &&
      lately !== undefined &&
      isTie(lately) &&
      lately.hardware === undefined &&
      attached.length === 0
    ) {
      // "the cover is held with three straps", "unhook the harness, there's three plugs"
      const holds =
        phrase.count !== undefined &&
        (this.#words[phrase.from]?.pause ?? 2) < 2 &&
        (clause.held || (noun.kind === "wire" && lately.kind === "wire" && lately.undone));
      // "the suction pipe, undo the flange"
      const joint =
        phrase.definite &&
        !lately.undone &&
        ["hose", "line"].includes(lately.kind) &&
        ["flange", "coupling"].includes(noun.kind);
      if (holds || joint) {
        if (joint) lately.kind = kindOf(noun.kind);
        else this.#hardware(lately, phrase, 1);
        lately.sources.push(source);
        return lately;
      }
    }
    const article = this.#words[phrase.from]?.text;
    const last = this.#lastTie();
    if (
      vague &&
      !phrase.more &&
      phrase.count === undefined &&
      attached.length === 0 &&
      article !== "a" &&
      article !== "an" &&
      last !== undefined &&
      (last.count === 1 || last.hardware !== undefined) &&
      this.#keys
        .get(last)
        ?.split(" ")
        .includes(this.#language.singular(phrase.words.at(-1) ?? "")) === true
    ) {
      last.sources.push(source);
      this.#look(last);
      return last;
    }
    if (vague && phrase.definite && !phrase.more && attached.length === 0) {
      const same = this.#focus.findLast(
        (one): one is Tie =>
          isTie(one) &&
          this.#keys
            .get(one)
            ?.split(" ")
            .includes(this.#language.singular(phrase.words.at(-1) ?? "")) === true &&
          !one.undone,
      );
      if (same !== undefined) {
        same.sources.push(source);
        this.#look(same);
        return same;
      }
    }
    const hint = clause.verb === undefined ? undefined : this.#language.verbKinds.get(clause.verb.lemma);
    const kind = kindOf(
      hint === "clip" && (noun?.kind === "wire" || noun?.kind === "cable") ? "clip" : this.#kindIn(phrase),
    );
    const host = attached.find(
      ({ link, phrase: one }) =>
        one.noun !== undefined && (link === "to" || link === "on" || link === "of" || link === "from"),
    );
    const near = host ?? attached.find(({ phrase: one }) => one.noun !== undefined);
    const label =
      vague && near !== undefined
        ? `${labelOf(phrase)} ${host?.link === "to" ? "to" : host?.link === "from" ? "from" : host === undefined ? "near" : "on"} ${labelOf(near.phrase).toLowerCase()}`
        : labelOf(phrase);
    const key = vague && near !== undefined ? [...phrase.words, ...near.phrase.words] : phrase.words;
    return this.#tie(label, kind, phrase, key, source, attached);
  }

  /** The kind by the nouns of a phrase, from its head backward: "propshaft bolts" are a shaft joint. */
  #kindIn(phrase: Phrase): string {
    const head = phrase.noun;
    if (head === undefined) return "bolted joint";
    if (head.role === "cover") return "cover fixing";
    if (head.role === "tie") return head.kind;
    if (head.kind !== "bolted joint" && head.kind !== "linkage") return head.kind;
    const inner = this.#nounsIn(phrase.before).findLast(({ role }) => role === "tie" || role === "cover");
    return inner?.kind === undefined || ["hose", "line", "cable", "wire"].includes(inner.kind)
      ? inner === undefined
        ? head.kind
        : inner.kind
      : inner.kind;
  }

  #isAssembly(words: readonly string[]): boolean {
    const assembly = (this.told.assembly ?? "").split(" ");
    const key = keyOf(words, this.#language);
    return key === keyOf(assembly, this.#language) || key === keyOf(assembly.slice(-1), this.#language);
  }

  #nounsIn(words: readonly string[]): Noun[] {
    const all = words.map((text) => ({ text }));
    const nouns: Noun[] = [];
    for (let i = 0; i < all.length; ) {
      const found = this.#language.nouns.at(all, i);
      if (found !== undefined) nouns.push(found.value);
      i += found?.length ?? 1;
    }
    return nouns;
  }

  /** Hardware: of what is named with it, of what was just spoken of, or by itself. */
  #fixing(
    phrase: Phrase,
    host: Phrase | undefined,
    attached: readonly { link: string; phrase: Phrase }[],
    source: Source,
    clause: Clause,
  ): Tie {
    const { verb } = clause;
    const head = phrase.noun?.kind ?? "bolted joint";
    const describing = this.#nounsIn(phrase.before);
    const done = (tie: Tie, sure: number): Tie => {
      if (verb !== undefined) this.#undo(tie, verb, sure);
      return tie;
    };
    const lately = this.#focus.at(-1);
    // "drop the propshaft, that's four bolts on the flange"
    const topic =
      clause.refs.at(-1) === lately &&
      phrase.count !== undefined &&
      (this.#words[phrase.from]?.pause ?? 2) < 2 &&
      (clause.verb === undefined ||
        (this.#words[phrase.from]?.pause === 1 && this.#words[phrase.from - 1]?.text !== "and"));
    if (
      (clause.of || topic) &&
      lately !== undefined &&
      isTie(lately) &&
      lately.hardware === undefined &&
      describing.length === 0 &&
      host?.noun?.role !== "part" &&
      this.#takesHardware(lately, head)
    ) {
      this.#hardware(lately, phrase, lately.count ?? 1);
      lately.sources.push(source);
      return lately;
    }
    if (host?.noun !== undefined && describing.length === 0) {
      const { role, kind } = host.noun;
      const key = keyOf(host.words, this.#language);
      if (role === "tie" || role === "cover") {
        const existing = this.#find(key, host, host.definite);
        // Clips of a hose are how the hose is undone; bolts of a mount are the mount.
        const tie =
          existing ??
          this.#tie(
            ["hose", "line", "cable", "wire", "strap", "cover fixing"].includes(kind)
              ? labelOf(host)
              : `${labelOf(host)} ${labelOf(phrase).toLowerCase()}`,
            kindOf(role === "cover" ? "cover fixing" : kind),
            host,
            host.words,
            source,
            attached,
          );
        this.#hardware(tie, phrase, host.count ?? tie.count ?? 1);
        if (role === "cover") this.#cover(tie, clause, source);
        return done(tie, 0.9);
      }
      const own = ["clip", "clamp"].includes(head) ? head : "bolted joint";
      const tie = this.#tie(
        `${labelOf(host)} ${labelOf(phrase).toLowerCase()}`,
        kindOf(head === "linkage" ? "linkage" : own),
        phrase,
        [...host.words, ...phrase.words],
        source,
        attached,
      );
      this.#joinPart(tie, host);
      return done(tie, 0.95);
    }
    const recent = this.#focus.at(-1);
    // "the suction hoses, undo the flange bolts"
    const joint =
      describing.length > 0 &&
      naming(phrase.before).length === 1 &&
      describing.every(({ kind }) => ["flange", "coupling", "line", "clamp"].includes(kind)) &&
      recent !== undefined &&
      isTie(recent) &&
      !recent.undone &&
      ["hose", "line", "shaft joint"].includes(recent.kind);
    const naked = naming(phrase.before).length === 0 || joint;
    if ((describing.length === 0 || joint) && naked && !phrase.more) {
      const sameHead = this.#focus.findLast(
        (one): one is Tie =>
          isTie(one) &&
          !one.undone &&
          phrase.definite &&
          this.#keys
            .get(one)
            ?.split(" ")
            .includes(this.#language.singular(phrase.words.at(-1) ?? "")) === true,
      );
      // "the feet: four bolts … take the four bolts out"
      if (
        recent !== undefined &&
        isTie(recent) &&
        phrase.definite &&
        recent.verb === undefined &&
        recent.hardware === phrase.noun?.name &&
        recent.count === phrase.count
      ) {
        recent.sources.push(source);
        return done(recent, 0.9);
      }
      if (sameHead !== undefined) {
        if (phrase.count !== undefined) sameHead.count = phrase.count;
        sameHead.sources.push(source);
        this.#look(sameHead);
        return done(sameHead, 0.9);
      }
      if (recent !== undefined && this.#spokenOf(recent, source)) {
        if (!isTie(recent)) {
          const implied = this.told.ties.find((one) => recent.by.includes(one.id) && one.hardware === undefined);
          if (implied !== undefined || recent.by.length === 0) {
            const tie =
              implied ?? this.#addTie(recent.label, "bolted joint", recent.label.toLowerCase().split(" "), source);
            if (implied === undefined) recent.by.push(tie.id);
            this.ids.free(tie.id);
            const old = tie.id;
            tie.label = `${recent.label} ${labelOf(phrase).toLowerCase()}`;
            tie.id = this.ids.make(tie.label);
            recent.by.splice(recent.by.indexOf(old), 1, tie.id);
            tie.kind = kindOf(["clip", "clamp"].includes(head) ? head : "bolted joint");
            tie.assumed = [];
            tie.hardware = phrase.noun?.name ?? "bolt";
            this.#count(tie, phrase, 1);
            if (!tie.joins.includes(recent.label.toLowerCase())) tie.joins.push(recent.label.toLowerCase());
            tie.sources.push(source);
            this.#callBy(tie, keyOf(tie.label.toLowerCase().split(" "), this.#language));
            tie.sure = 0.85;
            return done(tie, 0.9);
          }
        } else if (recent.hardware === undefined && this.#takesHardware(recent, head)) {
          this.#hardware(recent, phrase, recent.count ?? 1);
          recent.sources.push(source);
          this.#look(recent);
          return done(recent, 0.9);
        }
      }
    }
    const tie = this.#tie(labelOf(phrase), kindOf(this.#kindIn(phrase)), phrase, phrase.words, source, attached);
    tie.hardware ??= phrase.noun?.name ?? "bolt";
    const part = describing.findLast(({ role }) => role === "part");
    if (part !== undefined) this.#joinPart(tie, { ...phrase, words: phrase.before, noun: part });
    if (naked && describing.length === 0) this.#bare.add(tie);
    return done(tie, 0.85);
  }

  /** Whether a thing was spoken of a moment ago. */
  #spokenOf(ref: Tie | Off, source: Source): boolean {
    const last = ref.sources.at(-1);
    return last !== undefined && Math.abs(last.line - source.line) <= 12;
  }

  #takesHardware(tie: Tie, head: string): boolean {
    const byClip = ["clip", "clamp"].includes(head);
    if (["hose", "line"].includes(tie.kind))
      return byClip || head === "line" || head === "bolted joint" || head === "cover fixing";
    if (["wire", "cable", "strap"].includes(tie.kind)) return head === "bolted joint" || head === "linkage";
    return (
      !this.#isBare(tie) &&
      (tie.kind !== "bolted joint" || tie.assumed.length > 0) &&
      tie.kind !== "clip" &&
      tie.kind !== "clamp"
    );
  }

  #hardware(tie: Tie, phrase: Phrase, hosts: number): void {
    tie.hardware = phrase.noun?.name ?? "bolt";
    if (phrase.count !== undefined) tie.count = phrase.count * (this.#perHost(phrase) ? hosts : 1);
    else if (!["hose", "line", "cable", "wire", "strap"].includes(tie.kind)) {
      if (phrase.plural) delete tie.count;
    }
  }

  /** "two bolts each", "each held by two bolts". */
  #perHost(phrase: Phrase): boolean {
    const [a, b] = this.#words.slice(phrase.to, phrase.to + 2).map(({ text }) => text);
    return (
      this.#clause.each ||
      a === "each" ||
      a === "apiece" ||
      ((a === "on" || a === "in") && b === "each") ||
      (a === "per" && b !== "side")
    );
  }

  /** The part that a phrase names is held by this connection. */
  #joinPart(tie: Tie, host: Phrase): void {
    const name = labelOf(host).toLowerCase();
    if (!tie.joins.includes(name)) tie.joins.push(name);
    if (host.noun?.role === "part") {
      const key = keyOf(host.words, this.#language);
      let part = this.told.parts.find((one) => keyOf(one.label.toLowerCase().split(" "), this.#language) === key);
      if (part === undefined) {
        part = { id: "", label: labelOf(host), by: [], removed: false, cover: false, sources: [...tie.sources] };
        this.told.parts.push(part);
      }
      const implied = this.told.ties.find(
        (one) => part.by.includes(one.id) && one.assumed.length > 0 && one.hardware === undefined && one !== tie,
      );
      if (implied !== undefined) this.#forget(implied);
      if (!part.by.includes(tie.id)) part.by.push(tie.id);
    }
  }

  #forget(tie: Tie): void {
    this.#keys.delete(tie);
    const { ties, parts } = this.told;
    ties.splice(ties.indexOf(tie), 1);
    for (const { by } of parts) if (by.includes(tie.id)) by.splice(by.indexOf(tie.id), 1);
    this.#focus = this.#focus.filter((one) => one !== tie);
    this.#told = this.#told.filter((one) => one !== tie);
    this.ids.free(tie.id);
  }

  /** The same thing, told before: by its key, here, unless another one is meant. */
  #find(key: string, phrase: Phrase, definite: boolean): Tie | undefined {
    if (phrase.more) return undefined;
    return (this.#byKey.get(key) ?? []).findLast(
      (one) => this.#keys.get(one) === key && (one.at === this.#here?.id || (definite && !one.undone)),
    );
  }

  #tie(
    label: string,
    kind: Kind,
    phrase: Phrase,
    words: readonly string[],
    source: Source,
    attached: readonly { link: string; phrase: Phrase }[],
  ): Tie {
    const key = keyOf(words, this.#language);
    const existing = this.#find(key, phrase, phrase.definite);
    if (existing !== undefined) {
      existing.sources.push(source);
      if (!existing.undone && this.#here !== undefined) existing.at = this.#here.id;
      const before = existing.label.toLowerCase();
      const now = label.toLowerCase();
      if (
        before !== now &&
        this.#language.singular(before) !== this.#language.singular(now) &&
        !same(before, now, this.#language)
      )
        this.told.twoNames.push({ tie: existing, other: label, source });
      if (phrase.count !== undefined) existing.count = phrase.count;
      this.#look(existing);
      return existing;
    }
    const tie = this.#addTie(label, kind, words, source);
    this.#count(tie, phrase, 1);
    for (const { link, phrase: to } of attached)
      if (link !== "near" && to.noun !== undefined) tie.joins.push(labelOf(to).toLowerCase());
    const place = attached.find(({ link }) => link === "near")?.phrase;
    if (place !== undefined) tie.place = place.words.join(" ");
    return tie;
  }

  #count(tie: Tie, phrase: Phrase, hosts: number): void {
    if (phrase.count !== undefined) tie.count = phrase.count * hosts;
    else if (!phrase.plural) tie.count ??= 1;
  }

  /** Whether its name says that there are several. */
  #isPlural(tie: Tie): boolean {
    const name = tie.label.toLowerCase().split(/ (?:on|to|from|near) /)[0] ?? "";
    const last = name.split(" ").at(-1) ?? "";
    return this.#language.singular(last) !== last;
  }

  #pronoun(chunk: Chunk & { is: "pronoun" }, i: number): void {
    const { verb } = this.#clause;
    const many = (ref: Tie | Off): boolean => isTie(ref) && this.#isPlural(ref);
    const fits = this.#focus.filter((ref) => !chunk.many || many(ref) || !isTie(ref));
    const ref =
      (chunk.many
        ? fits.findLast(many)
        : (fits.findLast((one) => !isTie(one) && !one.removed && one === this.#focus.at(-1)) ??
          this.#focus.findLast((one) => !many(one)))) ?? this.#focus.at(-1);
    const shared = this.told.bothSides.findLast(({ tie }) => this.#focus.slice(-2).includes(tie))?.tie;
    if (chunk.which !== "" && shared !== undefined && verb !== undefined) {
      this.#undo(shared, verb, 0.85);
      if (this.oneSide.has(shared)) this.oneSide.delete(shared);
      else this.oneSide.add(shared);
      this.#clause.refs.push(shared);
      return;
    }
    // "the pressure line and the return line, crack those off"
    if (chunk.many && verb !== undefined && this.#prior.length > 1 && this.#prior.at(-1) === this.#focus.at(-1)) {
      const ties = this.#prior.filter(isTie);
      for (const one of ties.length > 0 ? ties : this.#prior)
        if (isTie(one)) this.#undo(one, verb, 0.85);
        else this.#remove(one, verb.act);
      return;
    }
    // "and that's off", "it comes off"
    if (ref === undefined) return;
    const next = this.#chunks[i + 1];
    if (this.#clause.leave) {
      if (isTie(ref) && !ref.undone) this.#forget(ref);
      return;
    }
    if (verb === undefined) {
      this.#clause.refs.push(ref);
      if (next?.is !== "verb") this.#clause.there = true;
      return;
    }
    const lastMentioned = this.#focus.filter(isTie).filter((one) => !one.undone);
    if (isTie(ref)) {
      this.#undo(ref, verb, 0.85);
      ref.sources.push(this.#source(this.#clause.from, chunk.to));
      if (chunk.many && /both|all|lot/.test(chunk.which)) for (const one of lastMentioned) this.#undo(one, verb, 0.8);
    } else {
      this.#remove(ref, verb.act);
      ref.sources.push(this.#source(this.#clause.from, chunk.to));
    }
    this.#clause.refs.push(ref);
  }
  /** Told to be on both sides, and undone on one by name. */
  readonly oneSide = new Set<Tie>();

  #number(value: number, i: number): number {
    const last = this.#lastTie();
    const next = this.#chunks[i + 1];
    if (last === undefined || this.#clause.skip || value === 0) return 0;
    if (this.#clause.corrects) {
      last.count = value;
      return 0;
    }
    // "undo the flange bolts, four each"
    if (next?.is === "each" && last.count !== undefined) {
      last.count = Math.min(last.count * value, 999);
      return 1;
    }
    // "two from up top", "one on the left and one on the right": shares of what was named, and no place of ours.
    if ((next?.is === "place" || next?.is === "link") && next.pause === 0) {
      if (last.count === undefined || this.#shares.get(last) !== undefined) {
        const sum = (this.#shares.get(last) ?? 0) + value;
        this.#shares.set(last, sum);
        last.count = sum;
      }
      return next.is === "place" ? 1 : this.#chunks[i + 2]?.is === "phrase" ? 2 : 1;
    }
    if (last.count === undefined && !(next?.is === "sign" && next.sign === "eachSide")) last.count = value;
    return 0;
  }
  readonly #shares = new Map<Tie, number>();
  /** Ids of the positions that somebody went to. */
  readonly stood = new Set<string>();

  #place(chunk: Chunk & { is: "place" }, i: number): number {
    const { placed } = chunk;
    const other = this.#here === undefined ? undefined : this.#language.opposites.get(this.#here.id);
    const position = placed.position ?? other;
    const clause = this.#clause;
    // "undo the panel, and underneath you've got …": under the panel.
    if (this.#words[chunk.from - 1]?.text === "and" && chunk.to - chunk.from === 1) return 0;
    const leading = clause.refs.length === 0 && clause.verb === undefined && !clause.corrects;
    if (placed.local && position !== undefined && (leading || chunk.moved)) {
      this.#here = this.#position(position);
      this.stood.add(position.id);
      this.#end(chunk.to);
      return this.#chunks[i + 1]?.is === "link" && this.#chunks[i + 2]?.is === "phrase" ? 2 : 0;
    }
    if (placed.local || position === undefined)
      return placed.local && this.#chunks[i + 1]?.is === "link" && this.#chunks[i + 2]?.is === "phrase" ? 2 : 0;
    const next = this.#chunks[i + 1];
    const held = clause.refs.length > 0 || (clause.verb !== undefined && !chunk.moved);
    if (clause.corrects && clause.verb === undefined && clause.refs.length === 0) {
      const last = this.#lastTie();
      if (last !== undefined) last.at = this.#position(position).id;
      return 0;
    }
    // Silence all around, and something new after it: the recogniser lost the stop.
    const runsOn =
      next !== undefined && next.pause === 0 && (next.is === "verb" || (next.is === "sign" && next.sign === "there"));
    if (
      !held ||
      chunk.moved ||
      this.#here === undefined ||
      (runsOn && this.#silentBefore(chunk.from)) ||
      (chunk.pause >= 1 && next?.pause === 0)
    ) {
      if (held && this.#here === undefined)
        for (const ref of clause.refs) if (isTie(ref)) ref.at = this.#position(position).id;
      this.#here = this.#position(position);
      this.stood.add(position.id);
      // "at the forward end of the engine room": one place.
      if (next?.is === "place" && next.pause === 0 && this.#words[next.from]?.text === "of") {
        this.#end(chunk.to);
        return 1;
      }
      if (!held || chunk.moved) this.#end(chunk.to);
      else if (runsOn || chunk.pause >= 1) this.#end(chunk.to);
      return 0;
    }
    // "the breather on the top": where it is on the thing.
    if (position.id === "top") return 0;
    for (const ref of clause.refs) if (isTie(ref) && ref.sources.length <= 1) ref.at = this.#position(position).id;
    return 0;
  }

  #silentBefore(from: number): boolean {
    for (let k = from; k > from - 14 && k > 0; k -= 1) if ((this.#words[k]?.pause ?? 0) >= 2) return false;
    return true;
  }

  #position(name: PositionName): PositionTold {
    const known = this.told.positions.find(({ id }) => id === name.id);
    if (known !== undefined) return known;
    const position: PositionTold = { id: name.id, label: name.label, closed: [] };
    this.ids.take(name.id);
    this.told.positions.push(position);
    return position;
  }

  #task(does: string, chunk: Chunk): void {
    if (
      does === "catch" ||
      does === "mark" ||
      does === "plug" ||
      does === "lower" ||
      does === "back" ||
      does === "fill"
    )
      return;
    const source = this.#source(chunk.from, Math.min(chunk.to + 6, this.#words.length));
    if (does === "ready") {
      this.told.closings.push({ after: this.told.ties.length, final: true, source });
      return;
    }
    let fluid: string | undefined;
    let amount: string | undefined;
    for (let k = chunk.from; k < chunk.to + 7 && k < this.#words.length; k += 1) {
      if (k > chunk.from && (this.#words[k]?.pause ?? 0) >= 2) break;
      fluid ??= this.#language.fluids.at(this.#words, k)?.value;
      if (does === "drain" && /^\d+(\.\d+)?$/.test(this.#words[k]?.text ?? "")) {
        const unit = this.#language.volumes.at(this.#words, k + 1);
        if (unit !== undefined) amount = `${this.#words[k]?.text} ${unit.value}`;
      }
    }
    const same = this.told.tasks.find((one) => one.does === does && (one.fluid === fluid || fluid === undefined));
    if (same !== undefined) {
      same.sources.push(source);
      return;
    }
    const label =
      does === "drain"
        ? `Drain the ${fluid ?? "fluid"}`
        : does === "vent"
          ? `Let the pressure out${fluid === undefined ? "" : ` of the ${fluid}`}`
          : ({
              raise: "Raise the vehicle",
              support: "Take the weight from below",
              sling: "Take the weight on the hoist",
              lift: "Lift out",
              tilt: "Tilt the cab",
              chock: "Chock the wheels",
              bleed: "Bleed",
            }[does] ?? capital(does));
    this.told.tasks.push({
      id: "",
      does,
      label,
      ...(fluid === undefined ? {} : { fluid }),
      ...(amount === undefined ? {} : { amount }),
      ...(this.#here === undefined || does === "raise" || does === "lift" ? {} : { at: this.#here.id }),
      after: this.told.ties.length,
      sources: [source],
    });
  }

  #sign(chunk: Chunk & { is: "sign" }, i: number): number {
    const clause = this.#clause;
    switch (chunk.sign) {
      case "closing":
      case "final":
        return this.#close(chunk, i);
      case "erase": {
        const last = this.#lastTie();
        if (last !== undefined) this.#forget(last);
        this.#end(chunk.to);
        return 0;
      }
      case "correct":
        this.#end(chunk.from);
        this.#clause.corrects = this.told.ties.length > 0;
        return 0;
      case "same":
        return this.#same(chunk, i);
      case "eachSide":
        this.#bothSides(chunk);
        return 0;
      case "back":
      case "beware":
        this.#end(chunk.from);
        this.#clause.skip = true;
        return 0;
      case "leave":
        if (clause.refs.length > 0 && clause.verb === undefined) {
          for (const ref of clause.refs) if (isTie(ref) && !ref.undone && ref.sources.length <= 1) this.#forget(ref);
          clause.refs.length = 0;
        }
        this.#end(chunk.from);
        this.#clause.leave = true;
        this.#clause.skip = this.#chunks[i + 1]?.is === "phrase";
        return 0;
      case "there":
        this.#end(chunk.from);
        this.#clause.there = true;
        return 0;
      case "held":
        clause.there = true;
        clause.held = true;
        clause.each = this.#words[chunk.from - 1]?.text === "each";
        return 0;
      case "remind":
        return 0;
    }
  }

  #close(chunk: Chunk & { is: "sign" }, i: number): number {
    // "that's all the bolts out" names what it closes; "that's it off" closes nothing.
    const next = this.#chunks[i + 1];
    const near = next !== undefined && next.pause === 0 ? next : undefined;
    if (/^that'?s? ?(is )?it$/.test(chunk.said) && near !== undefined && near.is !== "place") return 0;
    this.#end(chunk.from);
    let claimed: number | undefined;
    let at = this.#here?.id;
    let taken = 0;
    for (let k = i + 1; k < i + 6; k += 1) {
      const one = this.#chunks[k];
      if (one === undefined || one.pause >= 2) break;
      if (one.is === "number") claimed = one.value;
      else if (one.is === "place") at = (one.placed.position ?? this.#here)?.id ?? at;
      else if (one.is === "phrase" && one.phrase.noun !== undefined && one.phrase.count !== undefined)
        claimed = undefined;
      if (one.is === "verb" || one.is === "then" || one.is === "move" || one.is === "task" || one.is === "sign") break;
      taken = k - i;
    }
    const final =
      this.#language.set.final.at(
        chunk.said.split(" ").map((text) => ({ text })),
        0,
      ) !== undefined || at === undefined;
    const source = this.#source(chunk.from, this.#chunks[i + taken]?.to ?? chunk.to);
    const closing = {
      ...(at === undefined ? {} : { at }),
      after: this.told.ties.length,
      final,
      source,
      ...(claimed === undefined ? {} : { claimed }),
    };
    this.told.closings.push(closing);
    this.told.positions.find(({ id }) => id === at)?.closed.push(source);
    this.#closedJustNow = true;
    this.#end(this.#chunks[i + taken]?.to ?? chunk.to);
    return taken;
  }

  /** "Same on the other side": what was just told, again over there. */
  #same(chunk: Chunk, i: number): number {
    let taken = 0;
    let place: (Chunk & { is: "place" }) | undefined;
    for (let k = i + 1; k < i + 4 && place === undefined; k += 1) {
      const one = this.#chunks[k];
      if (one === undefined || one.pause >= 2) break;
      if (one.is === "place") {
        place = one;
        taken = k - i;
      }
    }
    if (place === undefined) return 0;
    const position =
      place.placed.position ?? (this.#here === undefined ? undefined : this.#language.opposites.get(this.#here.id));
    if (position === undefined) return taken;
    const here = this.#here?.id;
    // "same on the right: air line only"
    if (this.#words.slice(place.to, place.to + 8).some(({ text }) => text === "only")) {
      this.#end(chunk.to);
      this.#here = this.#position(position);
      this.stood.add(position.id);
      return taken;
    }
    const whole = this.#closedJustNow;
    const group = whole
      ? this.told.ties.filter(({ at }) => at === here)
      : this.#told.length > 0
        ? this.#told
        : this.#lately;
    const there = this.#position(position);
    const stand = this.#here;
    this.#end(chunk.to);
    for (const tie of [...group]) {
      if (tie.at === there.id) continue;
      this.#here = there;
      const swapped = tie.label.replace(/\bleft\b/i, (word) => (word === "left" ? "right" : "Right"));
      const label =
        swapped === tie.label
          ? tie.label.replace(/\bright\b/i, (word) => (word === "right" ? "left" : "Left"))
          : swapped;
      const made = this.#addTie(label, tie.kind, label.toLowerCase().split(" "), this.#source(chunk.from, place.to));
      if (tie.count !== undefined) made.count = tie.count;
      if (tie.hardware !== undefined) made.hardware = tie.hardware;
      if (tie.verb !== undefined) made.verb = tie.verb;
      made.undone = tie.undone;
      made.joins.push(...tie.joins);
      made.assumed.push("as on the other side");
      made.sure = 0.75;
    }
    this.stood.add(there.id);
    this.#here = whole || place.moved ? there : stand;
    this.#end(place.to, false);
    return taken;
  }

  #bothSides(chunk: Chunk & { is: "sign" }): void {
    const { refs, there, verb, skip } = this.#clause;
    if (skip) return;
    const tie = refs.findLast(isTie) ?? (verb === undefined ? this.#lastTie() : undefined);
    if (tie === undefined) return;
    const before = this.#chunks[this.#chunks.indexOf(chunk) - 1];
    const share = before?.is === "number" && chunk.pause === 0 ? before.value : undefined;
    const one = share !== undefined;
    const per = /each|either|per|a side/.test(chunk.said) && !one;
    if (tie.count === undefined) tie.count = 2 * (share ?? 1);
    else if (share !== undefined && share > 1 && tie.count === share) tie.count = 2 * share;
    else if (per && tie.count > 1) tie.count *= 2;
    else tie.count = Math.max(tie.count, 2);
    if (there && verb === undefined)
      this.told.bothSides.push({ tie, source: this.#source(this.#clause.from, chunk.to) });
  }

  /** "No wait, that one is the fuel line", "sorry, five bolts". */
  #correct(phrase: Phrase, clause: Clause): boolean {
    const last = this.#lastTie();
    if (last === undefined || phrase.noun === undefined || clause.verb !== undefined) return false;
    const head = this.#language.singular(phrase.words.at(-1) ?? "");
    const sameHead =
      last.label
        .toLowerCase()
        .split(" ")
        .map((word) => this.#language.singular(word))
        .includes(head) || last.hardware === phrase.noun.name;
    clause.corrects = false;
    if (sameHead && naming(phrase.before).length === 0) {
      if (phrase.count !== undefined) last.count = phrase.count;
      return true;
    }
    if (phrase.noun.role === "fixing" && phrase.count !== undefined && this.#nounsIn(phrase.before).length === 0) {
      last.count = phrase.count;
      last.hardware = phrase.noun.name;
      return true;
    }
    if (!["tie", "cover", "fixing"].includes(phrase.noun.role)) return false;
    this.ids.free(last.id);
    const old = last.id;
    last.label = labelOf(phrase);
    last.id = this.ids.make(last.label);
    for (const { by } of this.told.parts) if (by.includes(old)) by.splice(by.indexOf(old), 1, last.id);
    last.kind = kindOf(this.#kindIn(phrase));
    this.#count(last, phrase, 1);
    this.#callBy(last, keyOf(phrase.words, this.#language));
    return true;
  }
}

/** Whether two labels differ by number or describing words alone. */
function same(a: string, b: string, language: Language): boolean {
  const plain = (text: string) =>
    naming(text.split(" "))
      .map((word) => language.singular(word))
      .join(" ");
  return plain(a) === plain(b);
}
