// Owns the listening: chunk by chunk, with what was spoken of last in mind, to connections, parts, tasks and positions.

import { type Chunk, chunksOf } from "./chunk.ts";
import { closeOff } from "./closing.ts";
import type { Off, Tie, Told, Verb } from "./item.ts";
import type { Language } from "./language.ts";
import { isTie, Memory } from "./memory.ts";
import { labelOf, naming } from "./names.ts";
import type { Phrase } from "./phrase.ts";
import { mirror, pairUp } from "./sides.ts";
import type { Word } from "./spoken.ts";
import { tellTask } from "./tasks.ts";
import { materialise, referentOf } from "./thing.ts";
import { endClause, remove, removeBy, undo } from "./undo.ts";

const ACTS: readonly string[] = ["disconnect", "loosen", "remove", "free"];

/** What was heard, where somebody stood meanwhile, and what was told of both sides and undone on one. */
export interface Heard {
  readonly told: Told;
  readonly stood: ReadonlySet<string>;
  readonly oneSide: ReadonlySet<Tie>;
}

export function hear(words: readonly Word[], language: Language): Heard {
  const m = new Memory(words, chunksOf(words, language), language);
  const assembly = mostNamed(m);
  if (assembly !== undefined) m.told.assembly = assembly;
  for (let i = 0; i < m.chunks.length; i += 1) {
    const chunk = m.chunks[i];
    if (chunk === undefined) break;
    if (chunk.pause >= 2) endClause(m, chunk.from, true);
    i += takeChunk(m, chunk, i);
  }
  endClause(m, words.length, true);
  return { told: m.told, stood: m.stood, oneSide: m.oneSide };
}

/** Takes one chunk; gives how many after it were taken with it. */
function takeChunk(m: Memory, chunk: Chunk, i: number): number {
  const clause = m.clause;
  const next = m.chunks[i + 1];
  switch (chunk.is) {
    case "verb":
      return takeVerb(m, chunk, i);
    case "phrase": {
      const last = m.chunks[i - 1];
      // "unhook it from the lever": where it comes from, and nothing that is undone.
      // "strap round, take the weight": what it is taken with.
      if (
        next?.is === "task" &&
        chunk.phrase.words.length === 1 &&
        ["strap", "chain"].includes(chunk.phrase.noun?.name ?? "")
      )
        return 0;
      if (m.language.set.nobodys.at(m.words, chunk.from) !== undefined) return 0;
      // "engine mounts, two front, two rear"
      if (
        chunk.phrase.noun === undefined &&
        chunk.phrase.count !== undefined &&
        chunk.phrase.words.every((word) => m.language.contrasts.has(word))
      ) {
        const tie = m.lastTie();
        if (tie !== undefined && m.touched.has(tie)) share(m, tie, chunk.phrase.count);
        return 0;
      }
      // "diesel hoses, supply and return"
      const [one, and, two] = chunk.phrase.words;
      if (
        chunk.phrase.words.length === 3 &&
        and === "and" &&
        m.language.contrasts.get(one ?? "") === m.language.contrasts.get(two ?? "?")
      ) {
        const tie = m.lastTie();
        if (tie !== undefined && m.touched.has(tie) && tie.count === undefined) {
          tie.count = 2;
          m.things.set(tie, 2);
        }
        return 0;
      }
      if (chunk.phrase.nothing || m.words[chunk.from - 1]?.text === "where") return 0;
      // "belly guard, in two halves, six bolts in each half"
      const whole = m.lastTie();
      if (whole !== undefined && m.touched.has(whole) && last?.is === "link" && isShares(m, chunk.phrase)) {
        m.things.set(whole, chunk.phrase.count ?? 1);
        return 0;
      }
      if (isSpots(m, chunk.phrase)) {
        // "unclip the harness at three points"
        const tie = m.lastTie();
        if (tie !== undefined && m.touched.has(tie) && (tie.count ?? 1) === 1 && chunk.phrase.count !== undefined)
          tie.count = chunk.phrase.count;
        return 0;
      }
      // "the hood on two hinge pins"
      const isHeld =
        chunk.phrase.noun?.role === "fixing" && chunk.phrase.count !== undefined && m.chunks[i - 2]?.is === "phrase";
      if (last?.is === "link" && !isHeld && !isNext(m, i)) return 0;
      // "take the weight on the slings front mount four bolts": what follows the task's own words has its own.
      if (clause.skip && clause.task && last?.is !== "task" && hasOwn(m, i)) endClause(m, chunk.from);
      if (clause.alias) {
        const tie = m.lastTie();
        if (tie !== undefined)
          m.told.twoNames.push({ tie, other: labelOf(chunk.phrase), source: m.source(chunk.from, chunk.to) });
        clause.alias = false;
        return 0;
      }
      // A warning is of what follows it, and of nothing after that.
      if (
        clause.skip &&
        !clause.task &&
        ++clause.passed > 1 &&
        !["and", "or"].includes(m.words[chunk.from - 1]?.text ?? "")
      )
        if (
          ["tie", "cover", "part"].includes(chunk.phrase.noun?.role ?? "") ||
          (chunk.phrase.noun?.role === "fixing" && chunk.phrase.count !== undefined)
        )
          endClause(m, chunk.from);
      // "take those off and the coupling bolts, eight of them, loosen those"
      if (
        clause.verb !== undefined &&
        m.words[chunk.from - 1]?.text === "and" &&
        m.chunks[i - 2]?.is === "pronoun" &&
        hasOwn(m, i)
      )
        endClause(m, chunk.from);
      // Of a recogniser without stops: a thing right after another one, with no "and" between, is the next one.
      if (
        last?.is === "link" ||
        (chunk.pause === 0 &&
          (clause.mention || (clause.verb !== undefined && clause.refs.length > 0)) &&
          isNewThing(m, i))
      )
        endClause(m, chunk.from);
      const taken = attachments(m, i);
      m.clause.forNext = isOfNext(m, i);
      const isObject = last?.is === "verb" || (last?.is === "particle" && m.chunks[i - 2]?.is === "verb");
      const ref = m.clause.skip ? undefined : referentOf(m, chunk.phrase, taken.phrases, chunk, isObject);
      if (ref !== undefined) m.clause.refs.push(ref);
      return taken.length;
    }
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
      if (["off", "out", "loose", "free", "undone", "apart", "away"].includes(chunk.particle)) {
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

const isShares = (m: Memory, { count, words }: Phrase): boolean =>
  count !== undefined && m.language.set.shares.at([{ text: words.at(-1) ?? "" }], 0) !== undefined;

const isSpots = (m: Memory, { count, words }: Phrase): boolean =>
  count !== undefined && m.language.set.spots.at([{ text: words.at(-1) ?? "" }], 0) !== undefined;

/** "slide it off glow plug wire unplug it": the particle was the verb's, and this is the next thing. */
function isNext(m: Memory, i: number): boolean {
  const chunk = m.chunks[i];
  const link = m.chunks[i - 1];
  if (chunk?.is !== "phrase" || link?.is !== "link" || m.words[link.from]?.text !== "off") return false;
  const role = chunk.phrase.noun?.role;
  const isBareName = chunk.phrase.words.length === chunk.to - chunk.from && (role === "tie" || role === "cover");
  const before = m.chunks[i - 2];
  const done = before?.is === "pronoun" || (before?.is === "phrase" && before.phrase.noun?.role === "fixing");
  return done && (isBareName || hasOwn(m, i));
}

/** "the hood on two hinge pins": what holds it, and no place on it. */
function isHardwareOn(m: Memory, i: number): boolean {
  const chunk = m.chunks[i];
  const link = m.chunks[i - 1];
  return (
    chunk?.is === "phrase" &&
    chunk.phrase.noun?.role === "fixing" &&
    chunk.phrase.count !== undefined &&
    link?.is === "link" &&
    /^(on|with|by)$/.test(m.words[link.from]?.text ?? "")
  );
}

/** Whether a phrase stands right after another thing, joined to it by no word. */
function isNewThing(m: Memory, i: number): boolean {
  const chunk = m.chunks[i];
  const last = m.chunks[i - 1];
  return (
    chunk?.is === "phrase" &&
    (chunk.phrase.noun?.role === "tie" || chunk.phrase.noun?.role === "cover" || chunk.phrase.noun?.role === "part") &&
    last !== undefined &&
    last.to === chunk.from &&
    ["phrase", "pronoun", "particle", "each", "number"].includes(last.is)
  );
}

/** "each flange has four screws" */
function saysEach(m: Memory, i: number): boolean {
  const chunk = m.chunks[i];
  return (
    chunk !== undefined && m.words.slice(chunk.from, chunk.to).some(({ text }) => text === "each" || text === "every")
  );
}

/** "then two bolts and the starter comes out": hardware of what is named after it. */
function isOfNext(m: Memory, i: number): boolean {
  const [next, verb, after] = m.chunks.slice(i + 1, i + 4);
  return (
    next?.is === "phrase" &&
    next.pause < 2 &&
    m.words[next.from - 1]?.text === "and" &&
    next.phrase.noun?.role !== "fixing" &&
    verb?.is === "verb" &&
    verb.act === "remove" &&
    verb.pause === 0 &&
    after?.is !== "phrase" &&
    after?.is !== "pronoun"
  );
}

/** Whether a thing is told of with its own hardware, or with what is done to it. */
function hasOwn(m: Memory, i: number): boolean {
  const chunk = m.chunks[i];
  const after = m.chunks
    .slice(i + 1, i + 5)
    .filter((one, k, all) => one.is !== "number" && !(one.is === "pronoun" && all[k - 1]?.is === "number"))
    .filter((one) => one.is !== "phrase" || !one.phrase.nothing);
  const next = after[0];
  if (chunk?.is !== "phrase" || (chunk.phrase.noun?.role !== "tie" && chunk.phrase.noun?.role !== "cover"))
    return false;
  return (
    (next?.is === "phrase" && next.phrase.noun?.role === "fixing" && next.phrase.count !== undefined) ||
    (next?.is === "verb" && after[1]?.is === "pronoun") ||
    (next?.is === "verb" && ACTS.includes(next.act) && next.pause === 0 && after[1]?.is !== "phrase")
  );
}

function takeVerb(m: Memory, chunk: Chunk & { is: "verb" }, i: number): number {
  const clause = m.clause;
  if (chunk.act === "none" || chunk.act === "mark" || chunk.act === "plug") {
    // "the chain I hang in the eye": it is put on, and was never on.
    if (!objectFollows(m, i) && ["hang", "hook", "lay", "put"].includes(chunk.lemma)) {
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
  const verb = { act: chunk.act as Verb, lemma: chunk.lemma };
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

/** Whether the verb has its object after it, before anything that ends the clause. */
function objectFollows(m: Memory, i: number): boolean {
  for (let k = i + 1; k < m.chunks.length && k < i + 5; k += 1) {
    const chunk = m.chunks[k];
    if (chunk === undefined || chunk.pause >= 2) return false;
    if (chunk.is === "phrase") return chunk.pause === 0 || k === i + 1;
    if (chunk.is === "pronoun") return chunk.pause === 0;
    if (chunk.is !== "particle") return false;
  }
  return false;
}

/** The phrases that belong to the one at `i`: "on the bell housing", "from the pump to the tank". */
function attachments(
  m: Memory,
  i: number,
): { readonly phrases: readonly { link: string; phrase: Phrase }[]; readonly length: number } {
  const phrases: { link: string; phrase: Phrase }[] = [];
  let k = i + 1;
  for (;;) {
    const a = m.chunks[k];
    if (a === undefined || a.pause >= 2) break;
    // A particle between: "pull the hose off of the stub".
    const link = a.is === "link" ? a : a.is === "place" && a.placed.local ? a : undefined;
    if (link === undefined) break;
    let b = m.chunks[k + 1];
    let skip = 1;
    if (link.is === "place" && b?.is === "link") {
      b = m.chunks[k + 2];
      skip = 2;
    }
    if (
      b?.is !== "phrase" ||
      b.pause >= 2 ||
      isSpots(m, b.phrase) ||
      isShares(m, b.phrase) ||
      isNext(m, k + skip) ||
      isHardwareOn(m, k + skip)
    )
      break;
    phrases.push({ link: link.is === "link" ? link.link : "near", phrase: b.phrase });
    k += skip + 1;
    const and = m.words[b.to];
    const joined = m.chunks[k];
    // "between the pump and the tank"
    if (
      link.is === "link" &&
      and?.text === "and" &&
      joined?.is === "phrase" &&
      joined.from === b.to + 1 &&
      m.words[link.from]?.text === "between"
    ) {
      phrases.push({ link: "to", phrase: joined.phrase });
      k += 1;
    }
  }
  return { phrases, length: k - i - 1 };
}

function takePronoun(m: Memory, chunk: Chunk & { is: "pronoun" }, i: number): void {
  const { verb } = m.clause;
  const many = (ref: Tie | Off): boolean => isTie(ref) && m.isPlural(ref);
  const fits = m.focus.filter((ref) => !chunk.many || many(ref) || !isTie(ref));
  const ref =
    (chunk.many
      ? fits.findLast(many)
      : (fits.findLast((one) => !isTie(one) && !one.removed && one === m.focus.at(-1)) ??
        m.focus.findLast((one) => !many(one)))) ?? m.focus.at(-1);
  const shared = m.told.bothSides.findLast(({ tie }) => m.focus.slice(-2).includes(tie))?.tie;
  if (chunk.which !== "" && shared !== undefined && verb !== undefined) {
    undo(shared, verb, 0.85);
    if (m.oneSide.has(shared)) m.oneSide.delete(shared);
    else m.oneSide.add(shared);
    m.clause.refs.push(shared);
    return;
  }
  // "the pressure line and the return line, crack those off"
  if (chunk.many && verb !== undefined && m.prior.length > 1 && m.prior.at(-1) === m.focus.at(-1)) {
    const ties = m.prior.filter(isTie);
    for (const one of ties.length > 0 ? ties : m.prior)
      if (isTie(one)) undo(one, verb, 0.85);
      else remove(m, one, verb.act);
    return;
  }
  if (m.latent !== undefined && !chunk.many && verb !== undefined && !m.clause.leave) {
    const part = materialise(m);
    if (part !== undefined) {
      if (isTie(part)) undo(part, verb, 0.8);
      else removeBy(m, part, verb);
      m.clause.refs.push(part);
      return;
    }
  }
  // "and that's off", "it comes off"
  if (ref === undefined) return;
  const next = m.chunks[i + 1];
  if (m.clause.leave) {
    if (isTie(ref) && !ref.undone) m.forget(ref);
    return;
  }
  if (verb === undefined) {
    m.clause.refs.push(ref);
    if (next?.is !== "verb") m.clause.there = true;
    return;
  }
  const lastMentioned = m.focus.filter(isTie).filter((one) => !one.undone);
  if (isTie(ref)) {
    undo(ref, verb, 0.85);
    ref.sources.push(m.source(m.clause.from, chunk.to));
    if (chunk.many && /both|all|lot/.test(chunk.which)) for (const one of lastMentioned) undo(one, verb, 0.8);
  } else {
    removeBy(m, ref, verb);
    ref.sources.push(m.source(m.clause.from, chunk.to));
  }
  m.clause.refs.push(ref);
}

function takeNumber(m: Memory, value: number, i: number): number {
  const last = m.lastTie();
  const next = m.chunks[i + 1];
  if (last === undefined || m.clause.skip || value === 0) return 0;
  if (m.clause.corrects) {
    last.count = value;
    return 0;
  }
  // "there are four of these; undo three", "there are four of them"
  const before = m.chunks[i - 1];
  if (before?.is === "verb" && ACTS.includes(before.act))
    undo(last, { act: before.act as Verb, lemma: before.lemma }, 0.85);
  if (
    (before?.is === "verb" && ACTS.includes(before.act)) ||
    (m.clause.there && !m.clause.mention && m.clause.verb === undefined && next?.is === "pronoun" && next.many)
  ) {
    last.count = value;
    return 0;
  }
  // "undo the flange bolts, four each"
  if (next?.is === "each" && last.count !== undefined) {
    last.count = Math.min(last.count * value, 999);
    return 1;
  }
  // "mounts: front two, rear two"
  const which = m.chunks[i - 1];
  const isShare =
    which?.is === "phrase" &&
    which.phrase.noun === undefined &&
    which.phrase.words.every((word) => m.language.contrasts.has(word));
  if (isShare) {
    share(m, last, value);
    return 0;
  }
  // "two from up top", "one on the left and one on the right": shares of what was named, and no place of ours.
  if ((next?.is === "place" || next?.is === "link") && next.pause === 0) {
    if (last.count === undefined || m.shares.get(last) !== undefined) {
      const sum = (m.shares.get(last) ?? 0) + value;
      m.shares.set(last, sum);
      last.count = sum;
    }
    return next.is === "place" ? 1 : m.chunks[i + 2]?.is === "phrase" ? 2 : 1;
  }
  // "rear propshaft, four": its bolts.
  if (
    last.count === 1 &&
    value > 1 &&
    last.hardware === undefined &&
    !m.isPlural(last) &&
    m.clause.refs.at(-1) === last
  ) {
    last.count = value;
    return 0;
  }
  if (last.count === undefined && !(next?.is === "sign" && next.sign === "eachSide")) last.count = value;
  if (last.hardware === undefined) m.things.set(last, value);
  return 0;
}

function takePlace(m: Memory, at: Chunk & { is: "place" }, i: number): number {
  const chunk = { ...at, moved: at.moved || at.placed.goes };
  const { placed } = chunk;
  const other = m.here === undefined ? undefined : m.language.opposites.get(m.here.id);
  const position = placed.position ?? other;
  const clause = m.clause;
  // "undo the panel, and underneath you've got …": under the panel.
  if (m.words[chunk.from - 1]?.text === "and" && chunk.to - chunk.from === 1) return 0;
  const leading = clause.refs.length === 0 && clause.verb === undefined && !clause.corrects;
  // "a jack under", "a strap over the top": where the task is done.
  if (
    clause.task &&
    !chunk.moved &&
    chunk.pause === 0 &&
    chunk.to - chunk.from <= 3 &&
    ["top", "under"].includes(position?.id ?? "")
  )
    return 0;
  if (placed.local && position !== undefined && (leading || chunk.moved)) {
    m.here = m.position(position);
    m.stood.add(position.id);
    endClause(m, chunk.to);
    return m.chunks[i + 1]?.is === "link" && m.chunks[i + 2]?.is === "phrase" ? 2 : 0;
  }
  if (placed.local || position === undefined)
    return placed.local && m.chunks[i + 1]?.is === "link" && m.chunks[i + 2]?.is === "phrase" ? 2 : 0;
  const next = m.chunks[i + 1];
  const held = clause.refs.length > 0 || (clause.verb !== undefined && !chunk.moved);
  if (clause.corrects && clause.verb === undefined && clause.refs.length === 0) {
    const last = m.lastTie();
    if (last !== undefined) last.at = m.position(position).id;
    return 0;
  }
  // Silence all around, and something new after it: the recogniser lost the stop.
  const runsOn =
    next !== undefined && next.pause === 0 && (next.is === "verb" || (next.is === "sign" && next.sign === "there"));
  if (
    !held ||
    chunk.moved ||
    m.here === undefined ||
    (runsOn && silentBefore(m, chunk.from)) ||
    (chunk.pause >= 1 && next?.pause === 0)
  ) {
    if (held && m.here === undefined) for (const ref of clause.refs) if (isTie(ref)) ref.at = m.position(position).id;
    m.here = m.position(position);
    m.stood.add(position.id);
    // "at the forward end of the engine room": one place.
    if (next?.is === "place" && next.pause === 0 && m.words[next.from]?.text === "of") {
      endClause(m, chunk.to);
      return 1;
    }
    if (!held || chunk.moved) endClause(m, chunk.to);
    else if (runsOn || chunk.pause >= 1) endClause(m, chunk.to);
    return 0;
  }
  // "the breather on the top": where it is on the thing.
  if (position.id === "top") return 0;
  for (const ref of clause.refs) if (isTie(ref) && ref.sources.length <= 1) ref.at = m.position(position).id;
  return 0;
}

function silentBefore(m: Memory, from: number): boolean {
  for (let k = from; k > from - 14 && k > 0; k -= 1) if ((m.words[k]?.pause ?? 0) >= 2) return false;
  return true;
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
      endClause(m, chunk.from);
      m.clause.skip = true;
      return 0;
    case "leave":
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
      clause.each = /^(each|one)$/.test(m.words[chunk.from - 1]?.text ?? "") || saysEach(m, i - 1);
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

/** The assembly that is named most, most of all where it is said to come free. */
function mostNamed(m: Memory): string | undefined {
  const votes = new Map<string, number>();
  m.chunks.forEach((chunk, i) => {
    if (chunk.is !== "phrase" || chunk.phrase.noun === undefined || /housing|block/.test(chunk.phrase.noun.name))
      return;
    const { role } = chunk.phrase.noun;
    if (role !== "assembly" && role !== "part") return;
    const near = m.chunks.slice(Math.max(0, i - 2), i + 3);
    const freed = near.some(
      // "unbolt the pump and lift it out" is said of any part; of the load at the end.
      (one) =>
        (one.is === "sign" && one.sign === "final") ||
        (one.is === "task" &&
          (one.does === "ready" || (one.does === "lift" && (role === "assembly" || i > 0.8 * m.chunks.length)))),
    );
    // "removal of the gear pump"
    const of = m.chunks[i - 1];
    const what = m.chunks[i - 2];
    const isRemoved =
      of?.is === "link" && what?.is === "phrase" && /^(removal|change|swap)$/.test(what.phrase.words.at(-1) ?? "");
    // "the rear axle out of the ambulance"
    const link = m.chunks[i + 1];
    const from = m.chunks[i + 2];
    const leaves =
      isRemoved ||
      (i < 12 &&
        link?.is === "link" &&
        from?.is === "phrase" &&
        from.phrase.words.some((text) => m.language.set.vehicles.at([{ text }], 0) !== undefined));
    // "this is how I take the pump out": before anything is told, what the talk is of.
    const opening =
      i < 8 &&
      Array.from({ length: chunk.from }, (_, k) => k).some((k) => m.language.set.intro.at(m.words, k) !== undefined);
    if (role === "part" && !freed && !opening && !leaves) return;
    const name = naming(chunk.phrase.words).join(" ");
    votes.set(name, (votes.get(name) ?? 0) + (leaves ? 6 : freed ? 4 : opening ? 3 : 1));
  });
  return [...votes].sort((a, b) => b[1] - a[1])[0]?.[0];
}

/** Two names that are said to be one thing: that which something was done to stays. */
function oneThing(m: Memory, a: Tie, b: Tie, chunk: Chunk): void {
  const isMeant = (tie: Tie): boolean => tie.verb !== undefined || tie.hardware !== undefined;
  const [tie, other] = isMeant(a) || !isMeant(b) ? [a, b] : [b, a];
  m.told.twoNames.push({ tie, other: other.label, source: m.source(chunk.from, chunk.to) });
  if (!isMeant(other)) m.forget(other);
}

/** So many of it at one place, and others elsewhere. */
function share(m: Memory, tie: Tie, value: number): void {
  const sum = (m.shares.get(tie) ?? 0) + value;
  m.shares.set(tie, sum);
  m.things.set(tie, sum);
  tie.count = sum;
}
