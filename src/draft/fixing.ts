// Owns hardware: of what is named with it, of what was just spoken of, or by itself.

import type { Clause, Doing } from "./clause.ts";
import { type Attached, connectionOf, kindIn, kindOf, nounsIn, setCount, uncover } from "./connection.ts";
import type { Off, Source, Tie } from "./item.ts";
import type { Noun } from "./language.ts";
import { isTie, type Memory } from "./memory.ts";
import { keyOf, labelOf, naming } from "./names.ts";
import { lastTwo } from "./number.ts";
import type { Phrase } from "./phrase.ts";
import { undo } from "./undo.ts";

/** Hardware where it is said, with what the ways of understanding it ask. */
interface Said {
  readonly m: Memory;
  readonly phrase: Phrase;
  readonly host: Phrase | undefined;
  readonly attached: Attached;
  readonly source: Source;
  readonly clause: Clause;
  /** What hardware it is. */
  readonly head: string;
  /** The nouns before it. */
  readonly describing: readonly Noun[];
  /** It has no name but that of hardware. */
  readonly naked: boolean;
  /** What was spoken of last. */
  readonly lately: Tie | Off | undefined;
  /** Undone where the clause has a verb. */
  readonly done: (tie: Tie, sure: number) => Tie;
}

/** Hardware: of what is named with it, of what was just spoken of, or by itself. */
export function fixingOf(
  m: Memory,
  phrase: Phrase,
  host: Phrase | undefined,
  attached: Attached,
  source: Source,
  clause: Clause,
): Tie | undefined {
  const said: Said = {
    m,
    phrase,
    host,
    attached,
    source,
    clause,
    head: phrase.noun?.kind ?? "bolted joint",
    describing: nounsIn(m, phrase.before),
    naked: naming(phrase.before, m.language).length === 0,
    lately: m.focus.at(-1),
    done: (tie, sure) => undoneBy(m, clause.verb, tie, sure),
  };
  return (
    ofBoth(said) ??
    ofHose(said) ??
    ofAssembly(said) ??
    atFlange(said) ??
    (said.naked && clause.of ? sumOf(m, phrase) : undefined) ??
    saidAgain(said) ??
    ofTopic(said) ??
    toldOfLast(said) ??
    ofHost(said) ??
    ofRecent(said) ??
    ofItself(said)
  );
}

function undoneBy(m: Memory, verb: Doing | undefined, tie: Tie, sure: number): Tie {
  if (verb === undefined) return tie;
  undo(tie, verb, sure);
  // "feed hose and return hose, pull the collars": of both.
  for (const one of m.prior)
    if (one !== tie && isTie(one) && m.prior.includes(tie) && one.kind === tie.kind && !one.undone)
      undo(one, verb, 0.7);
  return tie;
}

/** "feed pipe, return pipe, both unions": one of each. */
function ofBoth({ m, phrase, naked, done }: Said): Tie | undefined {
  const isBoth = naked && phrase.count === 2 && m.language.set.all.is(m.words[phrase.from]);
  const two = isBoth ? lastTwo(m) : [];
  const last = two.at(-1);
  const isSpokenOf = two.every((tie) => m.touched.has(tie) || m.touchedBefore.has(tie));
  if (last === undefined || last.hardware !== undefined || !isSpokenOf) return undefined;
  for (const tie of two) {
    tie.hardware ??= phrase.noun?.name ?? m.language.labels.bolt;
    done(tie, 0.9);
  }
  return last;
}

/** "bottom hose, spring clips" without the comma: the hose, and how it is held. */
function ofHose(said: Said): Tie | undefined {
  const { phrase, describing, head, host } = said;
  const hose = describing.at(-1);
  if (hose?.role !== "tie" || hose.kind !== "hose" || !["clip", "clamp"].includes(head) || host !== undefined)
    return undefined;
  const { count: _, ...rest } = phrase;
  return ofTie(said, { ...rest, words: phrase.before, noun: hose, plural: hose.plural }, "tie", "hose");
}

/** "And the bell housing, fourteen bolts.": its own, and none of what was told before. */
function ofAssembly(said: Said): Tie | undefined {
  const { m, phrase, host, clause, naked } = said;
  const before = m.chunks.find(({ to }) => to === phrase.from);
  const isListed =
    before?.is === "phrase" &&
    before.phrase.noun?.role === "assembly" &&
    ((m.words[before.from]?.pause ?? 3) >= 2 || m.language.set.and.is(m.words[before.from - 1]));
  if (!naked || !isListed || host !== undefined || phrase.count === undefined || clause.verb !== undefined)
    return undefined;
  return ofPart(said, before.phrase);
}

/** "the muffler, three nuts on the flange" */
function atFlange({ m, phrase, host, source, naked, lately, done }: Said): Tie | undefined {
  if (!naked || host?.noun?.kind !== "flange" || lately === undefined || isTie(lately)) return undefined;
  if (!m.touched.has(lately) && !m.touchedBefore.has(lately)) return undefined;
  if (lately.by.length > 0 && impliedOf(m, lately) === undefined) return undefined;
  const implied = impliedOf(m, lately);
  const tie = implied ?? m.addTie(lately.label, "flange", lately.label.toLowerCase().split(" "), source);
  tie.kind = "flange";
  tie.assumed = [];
  if (implied === undefined) {
    lately.by.push(tie.id);
    tie.joins.push(lately.label.toLowerCase());
  }
  fastenBy(m, tie, phrase, 1);
  return done(tie, 0.85);
}

/** "take all eight bolts out" */
function saidAgain({ m, phrase, host, source, naked, done }: Said): Tie | undefined {
  const again = naked && host === undefined ? toldAgain(m, phrase) : undefined;
  if (again === undefined) return undefined;
  again.sources.push(source);
  m.look(again);
  return done(again, 0.9);
}

/** Of what is being spoken of: "two bolts each". */
function ofTopic({ m, phrase, host, attached, source, clause, naked, done }: Said): Tie | undefined {
  const topic = topicOf(m);
  if (!naked || clause.forNext || phrase.more || topic === undefined) return undefined;
  const perThing = isOfEach(m, phrase, attached, clause);
  // "each one has one bolt, so three bolts"
  clause.each = false;
  if (isTopics(m, topic, phrase, host, clause, perThing)) {
    if (perThing && phrase.count !== undefined) {
      topic.count = phrase.count * (m.things.get(topic) ?? topic.count ?? 1);
      topic.hardware = phrase.noun?.name ?? m.language.labels.bolt;
      // "the front propshaft and the rear propshaft, eight bolts each"
      for (const one of clause.refs)
        if (isTie(one) && one !== topic && one.kind === topic.kind && one.hardware === undefined) {
          one.count = phrase.count * (m.things.get(one) ?? one.count ?? 1);
          one.hardware = topic.hardware;
        }
    } else if (topic.hardware === undefined) fastenBy(m, topic, phrase, topic.count ?? 1);
    else if (topic.hardware === phrase.noun?.name && phrase.count !== undefined) topic.count = phrase.count;
    if (host?.noun?.kind === "flange") flanged(m, topic, host.noun.name);
    topic.sources.push(source);
    m.look(topic);
    return done(topic, 0.85);
  }
  return undefined;
}

/** "drop the propshaft, that's four bolts on the flange" */
function toldOfLast({ m, phrase, host, source, clause, head, describing, lately }: Said): Tie | undefined {
  const isSaidOf =
    clause.refs.at(-1) === lately &&
    phrase.count !== undefined &&
    (m.words[phrase.from]?.pause ?? 2) < 2 &&
    (clause.verb === undefined ||
      (m.words[phrase.from]?.pause === 1 && !m.language.set.and.is(m.words[phrase.from - 1])));
  if (
    (clause.of || isSaidOf) &&
    lately !== undefined &&
    isTie(lately) &&
    lately.hardware === undefined &&
    describing.length === 0 &&
    host?.noun?.role !== "part" &&
    takesHardware(m, lately, head)
  ) {
    fastenBy(m, lately, phrase, lately.count ?? 1);
    lately.sources.push(source);
    return lately;
  }
  return undefined;
}

/** Of what is named with it: "the bolts on the bell housing". */
function ofHost(said: Said): Tie | undefined {
  const { host, describing } = said;
  if (host?.noun === undefined || describing.length > 0) return undefined;
  const { role, kind } = host.noun;
  return role === "tie" || role === "cover" ? ofTie(said, host, role, kind) : ofPart(said, host);
}

function ofTie(
  { m, phrase, attached, source, clause, head, done }: Said,
  host: Phrase,
  role: "tie" | "cover",
  kind: string,
): Tie {
  // "five zip ties that hold the harness": it is the ties that are undone.
  const isClipped = ["wire", "cable"].includes(kind) && head === "clip" && (phrase.count ?? 1) > 1;
  const key = keyOf(host.words, m.language);
  const existing = isClipped ? undefined : m.find(key, host, host.definite);
  // "the hose clamp from the cross bar"
  const isOwnKind = ["clip", "clamp"].includes(head) && !["hose", "line", "cable", "wire", "strap"].includes(kind);
  // Clips of a hose are how the hose is undone; bolts of a mount are the mount.
  const tie =
    existing ??
    connectionOf(
      m,
      ["hose", "line", "cable", "wire", "strap", "cover fixing"].includes(kind) && !isClipped
        ? labelOf(host, m.language)
        : `${labelOf(host, m.language)} ${labelOf(phrase, m.language).toLowerCase()}`,
      kindOf(role === "cover" ? "cover fixing" : isOwnKind ? head : kind),
      host,
      isClipped ? [...host.words, ...phrase.words] : host.words,
      source,
      attached,
    );
  fastenBy(m, tie, phrase, host.count ?? tie.count ?? 1);
  if (role === "cover") uncover(m, tie, clause, source);
  return done(tie, 0.9);
}

function ofPart({ m, phrase, attached, source, head, done }: Said, host: Phrase): Tie {
  const own = ["clip", "clamp"].includes(head) ? head : "bolted joint";
  const tie = connectionOf(
    m,
    `${labelOf(host, m.language)} ${labelOf(phrase, m.language).toLowerCase()}`,
    kindOf(head === "linkage" ? "linkage" : own),
    phrase,
    [...host.words, ...phrase.words],
    source,
    attached,
  );
  joinPart(m, tie, host);
  return done(tie, 0.95);
}

/** Of what was spoken of a moment ago, in this sentence or before. */
function ofRecent(said: Said): Tie | undefined {
  const { m, phrase, source, clause, head, describing, lately: recent, done } = said;
  // "the suction hoses, undo the flange bolts"
  const joint =
    describing.length > 0 &&
    naming(phrase.before, m.language).length === 1 &&
    describing.every(({ kind }) => ["flange", "coupling", "line", "clamp"].includes(kind)) &&
    recent !== undefined &&
    isTie(recent) &&
    !recent.undone &&
    ["hose", "line", "shaft joint"].includes(recent.kind);
  const plain = naming(phrase.before, m.language).length === 0 || joint;
  if (!(describing.length === 0 || joint) || !plain || phrase.more) return undefined;
  const same = sameAsLately(said);
  if (same !== undefined) return same;
  if (recent === undefined || clause.forNext || !spokenOf(recent, source)) return undefined;
  if (!isTie(recent)) return holdingPart(said, recent);
  if (recent.hardware !== undefined || !takesHardware(m, recent, head)) return undefined;
  fastenBy(m, recent, phrase, recent.count ?? 1);
  recent.sources.push(source);
  m.look(recent);
  return done(recent, 0.9);
}

/** The same hardware once more: "the feet: four bolts … take the four bolts out". */
function sameAsLately({ m, phrase, source, lately: recent, done }: Said): Tie | undefined {
  const sameHead = m.focus.findLast(
    (one): one is Tie =>
      isTie(one) &&
      !one.undone &&
      phrase.definite &&
      m.keys
        .get(one)
        ?.split(" ")
        .includes(m.language.singular(phrase.words.at(-1) ?? "")) === true,
  );
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
    m.look(sameHead);
    return done(sameHead, 0.9);
  }
  return undefined;
}

/** The bolts of a part that was spoken of, and of which nobody said what holds it. */
function holdingPart({ m, phrase, source, head, done }: Said, recent: Off): Tie | undefined {
  const implied = m.holding(recent).find((one) => one.hardware === undefined);
  if (implied !== undefined || recent.by.length === 0) {
    const tie = implied ?? m.addTie(recent.label, "bolted joint", recent.label.toLowerCase().split(" "), source);
    if (implied === undefined) recent.by.push(tie.id);
    const old = m.rename(tie, `${recent.label} ${labelOf(phrase, m.language).toLowerCase()}`);
    recent.by.splice(recent.by.indexOf(old), 1, tie.id);
    tie.kind = kindOf(["clip", "clamp"].includes(head) ? head : "bolted joint");
    tie.assumed = [];
    tie.hardware = phrase.noun?.name ?? m.language.labels.bolt;
    setCount(tie, phrase, 1);
    if (!tie.joins.includes(recent.label.toLowerCase())) tie.joins.push(recent.label.toLowerCase());
    tie.sources.push(source);
    m.callBy(tie, keyOf(tie.label.toLowerCase().split(" "), m.language));
    tie.sure = 0.85;
    return done(tie, 0.9);
  }
  return undefined;
}

/** By itself, where it is named or somebody counted it. */
function ofItself({ m, phrase, attached, source, clause, describing, naked, done }: Said): Tie | undefined {
  // "a quarter turn and pull": no piece of hardware that anybody counted or pointed to.
  // "exhaust clamp, one bolt" is.
  if (
    phrase.words.length === phrase.to - phrase.from &&
    !phrase.plural &&
    describing.length === 0 &&
    clause.verb === undefined &&
    !(phrase.noun?.kind === "clamp" && phrase.words.length > 1)
  )
    return undefined;
  const tie = connectionOf(
    m,
    labelOf(phrase, m.language),
    kindOf(kindIn(m, phrase)),
    phrase,
    phrase.words,
    source,
    attached,
  );
  tie.hardware ??= phrase.noun?.name ?? m.language.labels.bolt;
  const part = describing.findLast(({ role }) => role === "part");
  if (part !== undefined) joinPart(m, tie, { ...phrase, words: phrase.before, noun: part });
  if (naked) m.bare.add(tie);
  return done(tie, 0.85);
}

/** "two clamps on each, so that's four clamps": how many there are altogether. */
function sumOf(m: Memory, phrase: Phrase): Tie | undefined {
  const last = m.lastTie();
  if (last === undefined || phrase.count === undefined || !isNamed(last.hardware, phrase)) return undefined;
  last.count = phrase.count;
  return last;
}

/** Whether hardware is called so, be it by its last word: "clevis pin" is a pin. */
const isNamed = (hardware: string | undefined, { noun }: Phrase): boolean =>
  hardware !== undefined && noun !== undefined && (hardware === noun.name || hardware.endsWith(` ${noun.name}`));

/** "take all eight bolts out", after eight bolts were told of: what they hold. */
function toldAgain(m: Memory, phrase: Phrase): Tie | undefined {
  if (m.clause.verb === undefined || phrase.more || m.clause.forNext || m.clause.each) return undefined;
  const isAll = phrase.definite || m.language.set.whole.is(m.words[phrase.from]);
  const ties = m.focus.filter(isTie).slice(phrase.count === undefined ? -1 : -2);
  return isAll
    ? ties.findLast(
        (tie) => isNamed(tie.hardware, phrase) && (phrase.count === undefined || phrase.count === tie.count),
      )
    : undefined;
}

/** The connection that is being spoken of: named last, or of the part that was. */
function topicOf(m: Memory): Tie | undefined {
  const lately = m.focus.at(-1);
  return lately === undefined || isTie(lately) ? lately : m.holding(lately).at(-1);
}

/** "two bolts each", "eight bolts on each coupling", "each one has one screw". */
const isOfEach = (
  m: Memory,
  phrase: Phrase,
  attached: readonly { readonly phrase: Phrase }[],
  clause: Clause,
): boolean =>
  perHost(m, phrase) ||
  clause.each ||
  attached.some(({ phrase: { from, to } }) =>
    m.words.slice(from, to).some(({ text }) => m.language.set.every.has(text)),
  );

/** What was taken for granted to hold a part. */
const impliedOf = (m: Memory, part: Off): Tie | undefined =>
  m.holding(part).find(({ hardware, assumed }) => hardware === undefined && assumed.length > 0);

/** Whether hardware without a name of its own is that of the topic. */
function isTopics(
  m: Memory,
  topic: Tie,
  phrase: Phrase,
  host: Phrase | undefined,
  clause: Clause,
  perThing: boolean,
): boolean {
  if (m.isBare(topic)) return false;
  const now = m.touched.has(topic);
  const lately = now || m.touchedBefore.has(topic);
  if (perThing) return lately;
  if (host !== undefined)
    // "cardan shaft, undo the eight bolts at the gearbox", "it has eight screws at the flange": where on it.
    return (
      (now || (lately && (clause.held || clause.of))) &&
      topic.hardware === undefined &&
      topic.verb === undefined &&
      ["cable", "wire", "shaft joint", "coupling", "flange", "line", "hose"].includes(topic.kind) &&
      (host.noun?.kind === "flange" || ["assembly", "part", "fixed"].includes(host.noun?.role ?? ""))
    );
  if (topic.hardware === undefined) return false;
  // "a split pin and a castle nut" are one fastening.
  if (topic.hardware !== phrase.noun?.name) return now;
  // "one nut each, take the nuts off"
  if (phrase.definite && phrase.count === undefined) return lately;
  // "seven screws. No, eight. Eight screws, out"
  return (
    lately &&
    phrase.count !== undefined &&
    !m.language.set.and.is(m.words[phrase.to]) &&
    m.language.links.at(m.words, phrase.to) === undefined
  );
}

/** A line with bolts in its flange is undone at the flange; "the exhaust … three nuts on the flange" is called by it. */
function flanged(m: Memory, tie: Tie, name: string): void {
  if (tie.kind === "line") tie.kind = "flange";
  if (tie.kind !== "flange" || tie.label.toLowerCase().includes(name)) return;
  m.rename(tie, `${tie.label} ${name}`);
}

/** Whether a thing was spoken of a moment ago. */
function spokenOf(ref: Tie | Off, source: Source): boolean {
  const last = ref.sources.at(-1);
  return last !== undefined && Math.abs(last.line - source.line) <= 12;
}

function takesHardware(m: Memory, tie: Tie, head: string): boolean {
  // A spring is unhooked.
  if (tie.kind === "spring") return false;
  const byClip = ["clip", "clamp"].includes(head);
  if (["hose", "line"].includes(tie.kind))
    return byClip || head === "line" || head === "bolted joint" || head === "cover fixing";
  if (["wire", "cable", "strap"].includes(tie.kind)) return byClip || head === "bolted joint" || head === "linkage";
  return (
    !m.isBare(tie) &&
    (tie.kind !== "bolted joint" || tie.assumed.length > 0) &&
    tie.kind !== "clip" &&
    (tie.kind !== "clamp" || head === "bolted joint")
  );
}

export function fastenBy(m: Memory, tie: Tie, phrase: Phrase, hosts: number): void {
  tie.hardware = phrase.noun?.name ?? m.language.labels.bolt;
  // "the lamp cable is clipped with three clips": it is the clips that are undone.
  if (["wire", "cable"].includes(tie.kind) && phrase.noun?.kind === "clip" && (phrase.count ?? 1) > 1)
    tie.kind = "clip";
  if (phrase.count !== undefined) tie.count = phrase.count * (perHost(m, phrase) ? hosts : 1);
  else if (!["hose", "line", "cable", "wire", "strap"].includes(tie.kind)) {
    if (phrase.plural && (tie.count ?? 1) === 1) delete tie.count;
  }
}

/** "two bolts each", "each held by two bolts". */
function perHost(m: Memory, phrase: Phrase): boolean {
  const { perThing, perSide, perBefore } = m.language.set;
  return (
    m.clause.each ||
    perBefore.is(m.words[phrase.from]) ||
    (perThing.at(m.words, phrase.to) !== undefined && perSide.at(m.words, phrase.to) === undefined)
  );
}

/** The part that a phrase names is held by this connection. */
function joinPart(m: Memory, tie: Tie, host: Phrase): void {
  const name = labelOf(host, m.language).toLowerCase();
  if (!tie.joins.includes(name)) tie.joins.push(name);
  if (host.noun?.role === "part") {
    const key = keyOf(host.words, m.language);
    let [part] = m.partsCalled(key);
    if (part === undefined) {
      part = {
        id: "",
        label: labelOf(host, m.language),
        by: [],
        removed: false,
        cover: false,
        sources: [...tie.sources],
      };
      m.addPart(part);
    }
    const implied = impliedOf(m, part);
    if (implied !== undefined && implied !== tie) m.forget(implied);
    if (!part.by.includes(tie.id)) part.by.push(tie.id);
  }
}
