// Owns the listening: chunk by chunk, with what was spoken of last in mind, to connections, parts, tasks and positions.

import { ACTS, attachments, hasOwn, isNewThing, isNext, isOfNext, objectFollows, saysEach } from "./ahead.ts";
import { type Chunk, chunksOf } from "./chunk.ts";
import { doing } from "./clause.ts";
import { closeOff } from "./closing.ts";
import { leaveOutGroups } from "./groups.ts";
import type { Off, Tie, Told } from "./item.ts";
import type { Language } from "./language.ts";
import { mostNamed } from "./load.ts";
import { isTie, Memory } from "./memory.ts";
import { labelOf } from "./names.ts";
import { takeNumber, toldNumber } from "./number.ts";
import { verbsFirst } from "./order.ts";
import { takePronoun } from "./pronoun.ts";
import { mirror, pairUp } from "./sides.ts";
import type { Word } from "./spoken.ts";
import { tellTask } from "./tasks.ts";
import { materialise, referentOf } from "./thing.ts";
import { endClause, removeBy, undo } from "./undo.ts";
import { takePlace } from "./whereabouts.ts";

/** What was heard, where somebody stood meanwhile, and what was told of both sides and undone on one. */
export interface Heard {
  readonly told: Told;
  readonly stood: ReadonlySet<string>;
  readonly oneSide: ReadonlySet<Tie>;
}

export function hear(words: readonly Word[], language: Language): Heard {
  const m = new Memory(words, verbsFirst(chunksOf(words, language), words, language), language);
  const assembly = mostNamed(m);
  if (assembly !== undefined) m.told.assembly = assembly;
  for (let i = 0; i < m.chunks.length; i += 1) {
    const chunk = m.chunks[i];
    if (chunk === undefined) break;
    if (chunk.pause >= 2) endClause(m, chunk.from, true);
    i += takeChunk(m, chunk, i);
  }
  endClause(m, words.length, true);
  leaveOutGroups(m);
  return { told: m.told, stood: m.stood, oneSide: m.oneSide };
}

/** Takes one chunk; gives how many after it were taken with it. */
function takeChunk(m: Memory, chunk: Chunk, i: number): number {
  const clause = m.clause;
  const next = m.chunks[i + 1];
  switch (chunk.is) {
    case "verb":
      return takeVerb(m, chunk, i);
    case "phrase":
      return takePhrase(m, chunk, i);
    case "pronoun":
      if (!clause.skip) takePronoun(m, chunk, i);
      return 0;
    case "another": {
      const last = m.lastTie();
      if (last !== undefined && !clause.skip && (next?.is !== "phrase" || next.pause >= 2))
        last.count =
          last.hardware === undefined && !m.isPlural(last) && chunk.count > 1
            ? chunk.count
            : (last.count ?? 1) + chunk.count;
      // Where the other one is does not move us.
      return next?.is === "place" ? 1 : 0;
    }
    case "number":
      return takeNumber(m, chunk.value, i);
    case "torque": {
      const last = m.lastTie();
      if (last !== undefined) last.torque = chunk.text;
      return 0;
    }
    case "place":
      return takePlace(m, chunk, i);
    case "move":
      endClause(m, chunk.from);
      return 0;
    case "is":
      if (clause.verb !== undefined || clause.skip || clause.mention) endClause(m, chunk.from);
      m.clause.there = true;
      m.clause.of = true;
      return 0;
    case "each":
      return 0;
    case "particle":
      if (m.language.set.undoing.has(chunk.particle)) {
        if (isState(m, chunk)) {
          tellState(m, chunk);
          return 0;
        }
        clause.undone = true;
        clause.undoneOf = clause.refs.length;
        // "doghouse off, six screws"
        if (
          clause.refs.length === 0 &&
          clause.verb === undefined &&
          !clause.skip &&
          m.latent?.phrase.to === chunk.from
        ) {
          const part = materialise(m);
          if (part !== undefined) clause.refs.push(part);
        }
      }
      return 0;
    case "then":
      endClause(m, chunk.from);
      return 0;
    case "task":
      endClause(m, chunk.from);
      tellTask(m, chunk.does, chunk);
      m.clause.skip = true;
      m.clause.task = true;
      return 0;
    case "sign":
      return takeSign(m, chunk, i);
    case "link":
      return 0;
  }
}

/** "the wheels are off": how it stands before anything is told. */
const isState = ({ clause, told, words, language }: Memory, { from }: Chunk): boolean =>
  clause.verb === undefined &&
  !clause.skip &&
  told.ties.every((tie) => clause.refs.includes(tie) && tie.kind === "cover fixing" && tie.hardware === undefined) &&
  language.set.copulas.is(words[from - 1]);

function tellState(m: Memory, chunk: Chunk): void {
  const { clause, latent } = m;
  const names = [
    ...clause.refs.map(({ label }) => label),
    ...(latent === undefined ? [] : [latent.phrase.words.join(" ")]),
  ];
  for (const ref of clause.refs) m.spare(ref);
  clause.refs.length = 0;
  m.latent = undefined;
  if (names.some((name) => m.language.set.isolators.within(name))) tellTask(m, "isolate", chunk);
}

/** Takes a thing that is named: passed over, a number of what was named before, in a clause of its own, or what the clause is about. */
function takePhrase(m: Memory, chunk: Chunk & { is: "phrase" }, i: number): number {
  const last = m.chunks[i - 1];
  if (isWhere(m, chunk, last) || isPassedOver(m, chunk, i) || toldNumber(m, chunk, last)) return 0;
  // "the hood on two hinge pins"
  const isHeld =
    chunk.phrase.noun?.role === "fixing" && chunk.phrase.count !== undefined && m.chunks[i - 2]?.is === "phrase";
  // "unhook it from the lever": where it comes from, and nothing that is undone.
  if (last?.is === "link" && !isHeld && !isNext(m, i)) return 0;
  // "take the weight on the slings front mount four bolts": what follows the task's own words has its own.
  if (m.clause.skip && m.clause.task && last?.is !== "task" && hasOwn(m, i)) endClause(m, chunk.from);
  // "takes the weight, and the mounts …"
  const isTied = chunk.phrase.noun?.role === "tie" || chunk.phrase.noun?.role === "cover";
  if (m.clause.task && last?.is === "task" && isTied && m.language.set.and.is(m.words[last.to]))
    endClause(m, chunk.from);
  if (m.clause.alias) {
    const tie = m.lastTie();
    if (tie !== undefined)
      m.told.twoNames.push({ tie, other: labelOf(chunk.phrase, m.language), source: m.source(chunk.from, chunk.to) });
    m.clause.alias = false;
    return 0;
  }
  if (isOfNextClause(m, chunk, i)) {
    const { skip, task } = m.clause;
    endClause(m, chunk.from);
    // "watch the wire behind the filter, belt guard, four bolts": what has hardware is told of again.
    const isTold = last?.is === "phrase" && (last.phrase.noun?.role === "tie" || last.phrase.noun?.role === "cover");
    if (skip && !task && chunk.phrase.noun?.role === "fixing" && isTold) {
      const told = referentOf(m, last.phrase, [], last, false);
      if (told !== undefined) m.clause.refs.push(told);
    }
  }
  const taken = attachments(m, i);
  m.clause.forNext = isOfNext(m, i);
  const isObject = last?.is === "verb" || (last?.is === "particle" && m.chunks[i - 2]?.is === "verb");
  const ref = m.clause.skip ? undefined : referentOf(m, chunk.phrase, taken.phrases, chunk, isObject);
  if (ref !== undefined) {
    takeForSame(m, ref, chunk, last);
    m.clause.refs.push(ref);
  }
  return taken.length;
}

/** "this big rubber elbow is the intake duct": one thing, by the name that it is given. */
function takeForSame(m: Memory, ref: Tie | Off, { from }: Chunk, last: Chunk | undefined): void {
  const { clause, language, words } = m;
  const before = clause.refs.at(-1);
  const isNamed =
    last?.is === "phrase" &&
    last.to === from - 1 &&
    language.set.copulas.is(words[from - 1]) &&
    language.set.passives.is(words[from - 1]) &&
    language.set.the.is(words[from]);
  if (!isNamed || before === undefined || before === ref || !isTie(before) || !isTie(ref)) return;
  if (before.verb !== undefined || before.hardware !== undefined || before.sources.length > 1) return;
  m.forget(before);
  clause.refs.pop();
}

/** "Am Anlasser schraubst du das Kabel ab": where it is, and what is undone comes after the verb. */
const isWhere = ({ language, words, clause }: Memory, { from }: Chunk, before: Chunk | undefined): boolean =>
  language.verbSecond &&
  from > (before?.to ?? 0) &&
  clause.verb === undefined &&
  clause.refs.length === 0 &&
  language.links.is(words[from - 1]);

/** A tool, what a load is taken with, what was only asked after. */
function isPassedOver(m: Memory, { phrase, from }: Chunk & { is: "phrase" }, i: number): boolean {
  // "strap round, take the weight"
  const isGear = phrase.words.length === 1 && m.language.set.gear.has(phrase.noun?.name);
  const isSlung = m.told.tasks.some(({ does }) => does === "sling");
  return (
    (isGear && (isSlung || m.chunks[i + 1]?.is === "task")) ||
    m.language.set.nobodys.at(m.words, from) !== undefined ||
    m.language.set.nobodys.is(m.words[from - 1]) ||
    phrase.nothing ||
    m.language.set.where.is(m.words[from - 1])
  );
}

/** Whether a thing begins a clause, though no stop and no verb says so. */
function isOfNextClause(m: Memory, { phrase, from, pause }: Chunk & { is: "phrase" }, i: number): boolean {
  const { clause } = m;
  const { and } = m.language.set;
  const before = m.words[from - 1]?.text;
  const role = phrase.noun?.role ?? "";
  // A warning is of what follows it, and of nothing after that.
  if (clause.skip && !clause.task && ++clause.passed > 1 && !m.language.set.andOr.has(before))
    if (["tie", "cover", "part"].includes(role) || (role === "fixing" && phrase.count !== undefined)) return true;
  // "take those off and the coupling bolts, eight of them, loosen those"
  if (clause.verb !== undefined && and.has(before) && m.chunks[i - 2]?.is === "pronoun" && hasOwn(m, i)) return true;
  // "cap it, and the fat one beside it is the suction hose"
  if (clause.mention && m.language.set.passives.is(m.words[from - 1]) && m.language.set.the.is(m.words[from]))
    return true;
  // Of a recogniser without stops: a thing right after another one, with no "and" between, is the next one.
  const isOpen = clause.mention || (clause.verb !== undefined && clause.refs.length > 0);
  return m.chunks[i - 1]?.is === "link" || (pause === 0 && isOpen && isNewThing(m, i));
}

function takeVerb(m: Memory, chunk: Chunk & { is: "verb" }, i: number): number {
  const clause = m.clause;
  if (chunk.act === "none" || chunk.act === "mark" || chunk.act === "plug") {
    // "the chain I hang in the eye": it is put on, and was never on.
    if (!objectFollows(m, i) && m.language.set.puts.has(chunk.lemma)) {
      for (const ref of clause.refs) if (isTie(ref) && !ref.undone && ref.sources.length <= 1) m.forget(ref);
      clause.refs.length = 0;
    }
    endClause(m, chunk.from);
    m.clause.mention = true;
    m.clause.there = true;
    return 0;
  }
  if (!ACTS.includes(chunk.act)) {
    endClause(m, chunk.from);
    tellTask(m, chunk.act, chunk);
    m.clause.skip = true;
    m.clause.task = chunk.act !== "back";
    return 0;
  }
  if (clause.skip && !clause.task && chunk.pause === 0) return 0;
  const verb = doing(chunk, m.language);
  const before = clause.refs;
  const taken = objectFollows(m, i);
  // "four bolts and the roller lifts off"
  if (!taken && chunk.pause < 2 && m.latent?.phrase.to === chunk.from && clause.verb === undefined) {
    const part = materialise(m);
    if (part !== undefined) before.push(part);
  }
  // "the two hoses come off": what was named is what is done to, where nothing follows.
  if (!taken && before.length > 0 && clause.verb === undefined && !chunk.negated) {
    for (const ref of before)
      if (isTie(ref)) undo(ref, verb, 0.9);
      else removeBy(m, ref, verb);
    clause.verb = verb;
    return 0;
  }
  if (clause.verb === undefined && before.length > 0) clause.there = true;
  const { corrects } = clause;
  endClause(m, chunk.from);
  m.clause.verb = verb;
  m.clause.corrects = corrects;
  m.clause.skip = chunk.negated;
  return 0;
}

function takeSign(m: Memory, chunk: Chunk & { is: "sign" }, i: number): number {
  const clause = m.clause;
  switch (chunk.sign) {
    case "closing":
    case "final":
      return closeOff(m, chunk, i);
    case "erase": {
      const last = m.lastTie();
      if (last !== undefined) m.forget(last);
      endClause(m, chunk.to);
      return 0;
    }
    case "correct":
      endClause(m, chunk.from);
      m.clause.corrects = m.told.ties.length > 0;
      return 0;
    case "same":
      return mirror(m, chunk, i);
    case "eachSide":
      pairUp(m, chunk);
      return 0;
    case "back":
    case "beware":
      // "you can see the busbars, don't touch those"
      if (m.chunks[i + 1]?.is === "pronoun" && chunk.sign === "beware" && clause.verb === undefined)
        for (const ref of clause.refs.splice(0)) m.spare(ref);
      endClause(m, chunk.from);
      m.clause.skip = true;
      return 0;
    case "leave":
      // "eight bolts, leave two in": undone but for these.
      if (m.chunks[i + 1]?.is === "number") {
        endClause(m, chunk.from);
        m.clause.leave = true;
        return 0;
      }
      {
        // "the bracket stays", "and the engine stays where it is"
        const refs = clause.verb === undefined ? clause.refs : clause.refs.slice(-1);
        for (const ref of refs) m.spare(ref);
        clause.refs.length -= refs.length;
      }
      endClause(m, chunk.from);
      m.clause.leave = true;
      m.clause.skip = m.chunks[i + 1]?.is === "phrase";
      return 0;
    case "there":
      endClause(m, chunk.from);
      m.clause.there = true;
      return 0;
    case "held": {
      const next = m.chunks[i + 1];
      // "it is held by three rubber mounts": what is spoken of from here on.
      if (next?.is === "phrase" && next.phrase.noun?.kind === "mount" && next.phrase.noun.role === "tie") {
        endClause(m, chunk.from);
        m.clause.there = true;
        return 0;
      }
      clause.there = true;
      clause.held = true;
      clause.each =
        m.language.set.eachOne.is(m.words[chunk.from - 1]) ||
        saysEach(m, i - 1) ||
        (m.chunks[i - 1]?.is === "pronoun" && saysEach(m, i - 2));
      return 0;
    }
    case "alias":
      clause.alias = m.lastTie() !== undefined;
      // "the elastic joint and the coupling are one and the same"
      if (m.chunks[i + 1]?.is !== "phrase" || (m.chunks[i + 1]?.pause ?? 2) >= 2) {
        clause.alias = false;
        const [a, b] = [...m.touched].filter(isTie).slice(-2);
        if (a !== undefined && b !== undefined) oneThing(m, a, b, chunk);
      }
      return 0;
    case "remind":
      return 0;
  }
}

/** Two names that are said to be one thing: that which something was done to stays. */
function oneThing(m: Memory, a: Tie, b: Tie, chunk: Chunk): void {
  const isMeant = (tie: Tie): boolean => tie.verb !== undefined || tie.hardware !== undefined;
  const [tie, other] = isMeant(a) || !isMeant(b) ? [a, b] : [b, a];
  m.told.twoNames.push({ tie, other: other.label, source: m.source(chunk.from, chunk.to) });
  if (!isMeant(other)) m.forget(other);
}
