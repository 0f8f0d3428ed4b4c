// Owns what a phrase stands for where it is said: a connection, a part, hardware, or nothing of ours.

import { namedTie } from "./called.ts";
import type { Chunk } from "./chunk.ts";
import type { Clause } from "./clause.ts";
import { type Attached, connectionOf, isAssembly, kindIn, kindOf, nounsIn, setCount, uncover } from "./connection.ts";
import { fixingOf } from "./fixing.ts";
import type { Off, Source, Tie } from "./item.ts";
import { isTie, type Memory } from "./memory.ts";
import { keyOf, labelOf, naming } from "./names.ts";
import type { Phrase } from "./phrase.ts";
import { filled } from "./says.ts";
import { tellTask } from "./tasks.ts";
import { removeBy, undo } from "./undo.ts";

/** A phrase where it is said, with what the ways of understanding it ask. */
interface Spoken {
  readonly m: Memory;
  readonly phrase: Phrase;
  readonly attached: Attached;
  readonly source: Source;
  /** It is what a verb is done to. */
  readonly isObject: boolean;
}

/** What a phrase stands for here: a connection, a part, or nothing of ours. */
export function referentOf(
  m: Memory,
  phrase: Phrase,
  attached: Attached,
  chunk: Chunk,
  isObject: boolean,
): Tie | Off | undefined {
  if (isNothing(m, phrase) || toldAsTask(m, phrase, chunk)) return undefined;
  const { clause } = m;
  const source = m.source(clause.from, Math.max(chunk.to, attached.at(-1)?.phrase.to ?? 0));
  if (clause.corrects && correctLast(m, phrase, clause)) {
    const last = m.lastTie();
    if (last !== undefined) m.look(last);
    return last;
  }
  // "two chains on the lifting eyes"
  if (attached.some(({ phrase: host }) => m.language.set.hoisting.has(host.words.at(-1)))) return undefined;
  const role = phrase.noun?.role;
  if (role !== undefined && role !== "fixing") m.latent = undefined;
  if (clause.mention) return mentioned(m, phrase, attached, source);
  const spoken: Spoken = { m, phrase, attached, source, isObject };
  switch (role) {
    case undefined:
      return unlisted(spoken);
    case "fixing":
      return hardware(spoken);
    case "tie":
    case "cover":
      return connection(spoken, role);
    default:
      return offOrUnplugged(m, phrase, clause, source);
  }
}

const asWords = (text: string): readonly { readonly text: string }[] => text.split(" ").map((word) => ({ text: word }));

/** What the language says is nothing of ours. */
function isNothing({ language }: Memory, { words, noun }: Phrase): boolean {
  const nothing = (text: string) => language.set.nothings.at(asWords(text), 0)?.value === text;
  const last = words.at(-1) ?? "";
  return nothing(words.join(" ")) || (noun === undefined && (nothing(last) || nothing(language.singular(last))));
}

/** "now the drain plug": work, and nothing that ties. */
function toldAsTask(m: Memory, phrase: Phrase, chunk: Chunk): boolean {
  const said = naming(phrase.words, m.language).map((text) => ({ text }));
  const task = m.language.tasks.at(said, 0);
  if (task !== undefined) tellTask(m, task.value, chunk);
  return task !== undefined;
}

/** What no list has: hardware by its number, something by what is done to it, or nothing yet. */
function unlisted(spoken: Spoken): Tie | Off | undefined {
  const { m, phrase, attached, source, isObject } = spoken;
  const { clause, language } = m;
  const { verb } = clause;
  if (phrase.words.length > 4) return undefined;
  const one = hardwareIn(spoken);
  if (one !== undefined) {
    const noun = { role: "fixing", kind: "bolted joint", plural: true, alike: false, name: one } as const;
    return fixingOf(m, { ...phrase, plural: true, before: [], noun }, undefined, attached, source, clause);
  }
  if (verb === undefined) keepInMind(spoken);
  if (verb === undefined || !isObject || language.set.strong.at([{ text: verb.lemma }], 0) === undefined)
    return undefined;
  if (language.set.takes.has(verb.lemma)) return offOrUnplugged(m, phrase, clause, source);
  const kind = kindOf(language.verbKinds.get(verb.lemma) ?? "clip");
  const tie = connectionOf(m, labelOf(phrase, language), kind, phrase, phrase.words, source, attached);
  tie.assumed.push(filled(language.says.unknownWord, { name: phrase.words.join(" ") }));
  undo(tie, verb, 0.5);
  return tie;
}

/** "skirt panel, eight turn catches": hardware that no list has, by what one of it is called. */
function hardwareIn({ m, phrase, attached }: Spoken): string | undefined {
  const topic = m.focus.at(-1);
  const last = phrase.words.at(-1) ?? "";
  if ((phrase.count ?? 1) < 2 || topic === undefined || !m.touched.has(topic) || attached.length > 0) return undefined;
  if (!m.language.forms.isNoun(last)) return undefined;
  const isOpen = isTie(topic) ? topic.hardware === undefined && (topic.count ?? 1) === 1 : topic.by.length === 0;
  return isOpen ? m.language.unknownSingular(last) : undefined;
}

/** Nothing of ours, unless something is done to it later: "the doghouse … six screws". */
function keepInMind({ m, phrase, source }: Spoken): void {
  const { language } = m;
  const last = phrase.words.at(-1) ?? "";
  const isExtra =
    language.set.and.is(m.words[phrase.from - 1]) && m.lastTie()?.hardware !== undefined && m.touched.size > 0;
  if (isExtra || !language.forms.isNoun(last) || language.contrasts.has(last)) return;
  if (language.fluids.at([{ text: last }], 0) !== undefined) return;
  if (naming(phrase.words, language).some((word) => word.length > 1)) m.latent = { phrase, source };
}

/** Where a thing is or belongs, by a known noun. */
const hostOf = (attached: Attached): Phrase | undefined =>
  attached.find(({ link, phrase: host }) => ["on", "of", "from"].includes(link) && host.noun !== undefined)?.phrase;

function hardware({ m, phrase, attached, source }: Spoken): Tie | undefined {
  const host = hostOf(attached);
  const isNaked = naming(phrase.before, m.language).length === 0;
  const isSaid = phrase.count !== undefined || m.clause.verb !== undefined;
  if (m.latent !== undefined && host === undefined && isNaked && isSaid) materialise(m);
  return fixingOf(m, phrase, host, attached, source, m.clause);
}

/** A connection with a name of its own, undone where the clause has a verb. */
function connection({ m, phrase, attached, source }: Spoken, role: "tie" | "cover"): Tie {
  const { clause } = m;
  const before = m.focus.at(-1);
  const tie = namedTie(m, phrase, attached, source, clause);
  if (clause.of && before !== undefined && isTie(before) && isOtherName(before, tie)) {
    m.told.twoNames.push({ tie, other: before.label, source });
    m.forget(before);
  }
  if (clause.verb !== undefined) undo(tie, clause.verb, role === "tie" ? 0.95 : 0.9);
  if (role === "cover") uncover(m, tie, clause, source);
  return tie;
}

/** "the pto shaft? that is the cardan shaft": two names. */
const isOtherName = (before: Tie, tie: Tie): boolean =>
  before !== tie &&
  before.kind === tie.kind &&
  before.verb === undefined &&
  before.hardware === undefined &&
  before.sources.length === 1 &&
  tie.sources.length > 1;

/** What something is done to that undoes nothing: known already, or kept in mind. */
function mentioned(m: Memory, phrase: Phrase, attached: Attached, source: Source): Tie | Off | undefined {
  const host = attached.find(({ link }) => ["on", "of", "from"].includes(link))?.phrase;
  if (phrase.noun?.role === "fixing") {
    // "squeeze the clip and slide it off": the hose's own.
    const open = m.focus.at(-1);
    if (open !== undefined && isTie(open) && open.hardware === undefined && m.touched.has(open))
      return fixingOf(m, phrase, host, attached, source, m.clause);
    return undefined;
  }
  const key = keyOf(phrase.words, m.language);
  const known = m.find(key, phrase, true) ?? m.partsCalled(key)[0];
  if (known !== undefined) m.look(known);
  else if (phrase.noun?.role === "cover" || (phrase.noun?.role !== "assembly" && m.touched.size === 0))
    m.latent = { phrase, source };
  return undefined;
}

/** What was named last and is known by no name, now that something is done to it. */
export function materialise(m: Memory): Tie | Off | undefined {
  const { latent } = m;
  if (latent === undefined) return undefined;
  m.latent = undefined;
  const { phrase, source } = latent;
  if (phrase.noun?.role === "tie" || phrase.noun?.role === "cover") return namedTie(m, phrase, [], source, m.clause);
  const part: Off = {
    id: "",
    label: labelOf(phrase, m.language),
    by: [],
    removed: false,
    cover: false,
    sources: [source],
  };
  m.addPart(part);
  m.partAt.set(part, m.here?.id);
  m.look(part);
  return part;
}

/** A part as the object of a verb: taken off, or its plug pulled. */
function offOrUnplugged(m: Memory, phrase: Phrase, clause: Clause, source: Source): Tie | Off | undefined {
  const { verb } = clause;
  const name = labelOf(phrase, m.language);
  const role = phrase.noun?.role;
  if (
    verb !== undefined &&
    (verb.unplugs || verb.act === "disconnect") &&
    !m.language.set.partings.has(verb.lemma) &&
    role !== "assembly"
  ) {
    const fed = m.language.fed.get(phrase.noun?.name ?? "") ?? (role === undefined ? "clip" : "wire");
    const kind = kindOf(verb.unplugs ? "wire" : fed);
    const tie = connectionOf(m, name, kind, phrase, [...phrase.words, kind], source, []);
    undo(tie, verb, 0.8);
    if (!tie.joins.includes(name.toLowerCase())) tie.joins.push(name.toLowerCase());
    return tie;
  }
  // "pull the power pack": what the talk is of, before anything is told of it.
  if (role === "assembly" && m.told.ties.length === 0) return undefined;
  if (
    role === "assembly" &&
    !(verb?.act === "remove" && m.told.assembly !== undefined && !isAssembly(m, phrase.words))
  ) {
    if (verb !== undefined && m.language.set.splits.has(verb.lemma)) {
      const tie = connectionOf(m, name, "bolted joint", phrase, phrase.words, source, []);
      if (tie.assumed.length === 0) tie.assumed.push(m.language.says.unheld);
      undo(tie, verb, 0.6);
      return tie;
    }
    return undefined;
  }
  if (m.told.assembly !== undefined && isAssembly(m, phrase.words)) return undefined;
  let part = m
    .partsCalled(keyOf(phrase.words, m.language))
    .find((one) => !phrase.more && (m.partAt.get(one) === m.here?.id || (phrase.definite && !one.removed)));
  if (part === undefined) {
    if (verb === undefined && role === "fixed") {
      m.latent = { phrase, source };
      return undefined;
    }
    part = { id: "", label: name, by: [], removed: false, cover: false, sources: [] };
    m.addPart(part);
    m.partAt.set(part, m.here?.id);
  }
  part.sources.push(source);
  // "slacken the tensioner, slip it off": it is the belt that comes off.
  if (verb?.act !== "loosen" || m.touched.size === 0) m.look(part);
  if (verb !== undefined) {
    if (m.language.set.unbolts.has(verb.lemma) && part.by.length === 0) {
      const tie = connectionOf(
        m,
        `${part.label} ${m.language.labels.bolts}`,
        "bolted joint",
        { ...phrase, plural: true },
        [...phrase.words, m.language.labels.bolt],
        source,
        [],
      );
      delete tie.count;
      part.by.push(tie.id);
      tie.joins.push(part.label.toLowerCase());
      undo(tie, verb, 0.8);
      m.look(part);
    } else removeBy(m, part, verb);
  }
  return part;
}

/** "No wait, that one is the fuel line", "sorry, five bolts". */
function correctLast(m: Memory, phrase: Phrase, clause: Clause): boolean {
  const last = m.lastTie();
  if (last === undefined || phrase.noun === undefined || clause.verb !== undefined) return false;
  const head = m.language.singular(phrase.words.at(-1) ?? "");
  const sameHead =
    last.label
      .toLowerCase()
      .split(" ")
      .map((word) => m.language.singular(word))
      .includes(head) || last.hardware === phrase.noun.name;
  clause.corrects = false;
  if (sameHead && naming(phrase.before, m.language).length === 0) {
    if (phrase.count !== undefined) last.count = phrase.count;
    return true;
  }
  if (phrase.noun.role === "fixing" && phrase.count !== undefined && nounsIn(m, phrase.before).length === 0) {
    last.count = phrase.count;
    last.hardware = phrase.noun.name;
    return true;
  }
  if (!["tie", "cover", "fixing"].includes(phrase.noun.role)) return false;
  const old = m.rename(last, labelOf(phrase, m.language));
  for (const { by } of m.told.parts) if (by.includes(old)) by.splice(by.indexOf(old), 1, last.id);
  last.kind = kindOf(kindIn(m, phrase));
  setCount(last, phrase, 1);
  m.callBy(last, keyOf(phrase.words, m.language));
  return true;
}
