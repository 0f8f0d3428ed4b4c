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

/** What a phrase stands for here: a connection, a part, or nothing of ours. */
export function referentOf(
  m: Memory,
  phrase: Phrase,
  attached: Attached,
  chunk: Chunk,
  isObject: boolean,
): Tie | Off | undefined {
  const { clause } = m;
  const { noun } = phrase;
  const said = phrase.words.join(" ");
  const last = phrase.words.at(-1) ?? "";
  const nothing = (text: string) =>
    m.language.set.nothings.at(
      text.split(" ").map((word) => ({ text: word })),
      0,
    )?.value === text;
  if (nothing(said) || (noun === undefined && (nothing(last) || nothing(m.language.singular(last))))) return undefined;
  // "now the drain plug": work, and nothing that ties.
  const task = m.language.tasks.at(
    naming(phrase.words, m.language).map((text) => ({ text })),
    0,
  );
  if (task !== undefined) {
    tellTask(m, task.value, chunk);
    return undefined;
  }
  const source = m.source(clause.from, Math.max(chunk.to, attached.at(-1)?.phrase.to ?? 0));
  const hostOf = attached.find(
    ({ link, phrase: host }) => ["on", "of", "from"].includes(link) && host.noun !== undefined,
  )?.phrase;

  if (clause.corrects && correctLast(m, phrase, clause)) {
    const last = m.lastTie();
    if (last !== undefined) m.look(last);
    return last;
  }
  const verb = clause.verb;
  // "two chains on the lifting eyes"
  if (attached.some(({ phrase: host }) => m.language.set.hoisting.has(host.words.at(-1)))) return undefined;
  if (noun !== undefined && noun.role !== "fixing") m.latent = undefined;
  if (clause.mention) return mentioned(m, phrase, attached, source);
  if (noun === undefined) {
    if (phrase.words.length > 4) return undefined;
    // "skirt panel, eight turn catches": hardware that no list has.
    const topic = m.focus.at(-1);
    const one = m.language.unknownSingular(last);
    if (
      phrase.count !== undefined &&
      phrase.count > 1 &&
      topic !== undefined &&
      m.touched.has(topic) &&
      one !== undefined &&
      m.language.forms.isNoun(last) &&
      attached.length === 0 &&
      (isTie(topic) ? topic.hardware === undefined && (topic.count ?? 1) === 1 : topic.by.length === 0)
    )
      return fixingOf(
        m,
        {
          ...phrase,
          plural: true,
          before: [],
          noun: { role: "fixing", kind: "bolted joint", plural: true, alike: false, name: one },
        },
        undefined,
        attached,
        source,
        clause,
      );
    if (verb === undefined || !isObject || m.language.set.strong.at([{ text: verb.lemma }], 0) === undefined) {
      // Nothing of ours, unless something is done to it later: "the doghouse … six screws".
      const isExtra =
        m.language.set.and.is(m.words[phrase.from - 1]) && m.lastTie()?.hardware !== undefined && m.touched.size > 0;
      const isFluid = m.language.fluids.at([{ text: last }], 0) !== undefined;
      if (
        verb === undefined &&
        m.language.forms.isNoun(last) &&
        !isFluid &&
        !isExtra &&
        !m.language.contrasts.has(last) &&
        naming(phrase.words, m.language).some((word) => word.length > 1)
      )
        m.latent = { phrase, source };
      return undefined;
    }
    if (m.language.set.takes.has(verb.lemma)) return offOrUnplugged(m, phrase, clause, source);
    const kind = kindOf(m.language.verbKinds.get(verb.lemma) ?? "clip");
    const tie = connectionOf(m, labelOf(phrase, m.language), kind, phrase, phrase.words, source, attached);
    tie.assumed.push(filled(m.language.says.unknownWord, { name: phrase.words.join(" ") }));
    undo(tie, verb, 0.5);
    return tie;
  }
  if (
    noun.role === "fixing" &&
    m.latent !== undefined &&
    hostOf === undefined &&
    naming(phrase.before, m.language).length === 0
  )
    if (phrase.count !== undefined || verb !== undefined) materialise(m);
  if (noun.role === "fixing") return fixingOf(m, phrase, hostOf, attached, source, clause);
  if (noun.role === "tie" || noun.role === "cover") {
    const before = m.focus.at(-1);
    const tie = namedTie(m, phrase, attached, source, clause);
    // "the pto shaft? that is the cardan shaft": two names.
    if (
      clause.of &&
      before !== undefined &&
      isTie(before) &&
      before !== tie &&
      before.kind === tie.kind &&
      before.verb === undefined &&
      before.hardware === undefined &&
      before.sources.length === 1 &&
      tie.sources.length > 1
    ) {
      m.told.twoNames.push({ tie, other: before.label, source });
      m.forget(before);
    }
    if (verb !== undefined) undo(tie, verb, noun.role === "tie" ? 0.95 : 0.9);
    if (noun.role === "cover") uncover(m, tie, clause, source);
    return tie;
  }
  return offOrUnplugged(m, phrase, clause, source);
}

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
