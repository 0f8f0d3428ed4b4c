// Owns connections that are called by a name of their own: which of those told before they are, or a detail of one, or new.

import type { Kind } from "../vehicle/index.ts";
import type { Clause } from "./clause.ts";
import { type Attached, connectionOf, kindIn, kindOf, nounsIn } from "./connection.ts";
import { fastenBy } from "./fixing.ts";
import type { Off, Source, Tie } from "./item.ts";
import { isTie, type Memory } from "./memory.ts";
import { keyOf, labelOf, naming } from "./names.ts";
import { lastTwo } from "./number.ts";
import type { Phrase } from "./phrase.ts";
import { undo } from "./undo.ts";

/** Of what a plug, a union, a yoke may be a detail: by its kind, the kinds of what it undoes. */
const DETAIL_OF: Readonly<Record<string, readonly Kind[]>> = {
  wire: ["wire", "cable"],
  coupling: ["hose", "line", "wire"],
  flange: ["hose", "line", "flange", "shaft joint", "coupling"],
  linkage: ["linkage", "rod", "cable", "coupling", "shaft joint", "spring", "wire"],
  line: ["hose", "line"],
  hose: ["hose", "line"],
};

/** A name of a connection where it is said, with what the ways of understanding it ask. */
interface Named {
  readonly m: Memory;
  readonly phrase: Phrase;
  readonly attached: Attached;
  readonly source: Source;
  readonly clause: Clause;
  /** What was spoken of last. */
  readonly lately: Tie | Off | undefined;
  /** "the connector", "the quick coupler": which one, the name does not say. */
  readonly vague: boolean;
}

/** A connection with a name of its own: hose, cable, mount, cover. */
export function namedTie(m: Memory, phrase: Phrase, attached: Attached, source: Source, clause: Clause): Tie {
  const words = naming(phrase.words, m.language);
  const name = phrase.noun?.name.split(" ").map((text) => ({ text })) ?? [];
  const vague =
    words.length <= name.length && (name.length <= 1 || m.language.set.generic.at(name, 0)?.length === name.length);
  const named: Named = { m, phrase, attached, source, clause, lately: m.focus.at(-1), vague };
  return (
    holdingLast(named) ??
    oneOfBoth(named) ??
    detailOfLast(named) ??
    countOfLast(named) ??
    lastAgain(named) ??
    oneOfLately(named) ??
    newlyNamed(named)
  );
}

/** "the hose" after "the top hose is next": how the one that was just named is held or joined. */
function holdingLast({ m, phrase, attached, source, clause, lately, vague }: Named): Tie | undefined {
  const { noun } = phrase;
  if (!vague || noun === undefined || lately === undefined || !isTie(lately)) return undefined;
  if (lately.hardware !== undefined || attached.length > 0) return undefined;
  // "the cover is held with three straps", "unhook the harness, there's three plugs"
  const holds =
    phrase.count !== undefined &&
    (m.words[phrase.from]?.pause ?? 2) < 2 &&
    (clause.held || (noun.kind === "wire" && lately.kind === "wire" && lately.undone));
  // "the suction pipe, undo the flange"
  const joint =
    phrase.definite &&
    !lately.undone &&
    ["hose", "line"].includes(lately.kind) &&
    ["flange", "coupling"].includes(noun.kind);
  if (holds || joint) {
    if (joint) lately.kind = kindOf(noun.kind);
    else fastenBy(m, lately, phrase, 1);
    lately.sources.push(source);
    return lately;
  }
  return undefined;
}

/** "the left one", of what was said to be on both sides. */
function oneOfBoth({ m, phrase, source, clause }: Named): Tie | undefined {
  const side = phrase.words.find((word) => m.language.set.sides.has(word));
  if (side === undefined) return undefined;
  const rest = keyOf(
    phrase.words.filter((word) => word !== side),
    m.language,
  );
  const both = m.told.bothSides.findLast(
    ({ tie }) => m.keys.get(tie) === rest && !tie.label.toLowerCase().includes(side),
  )?.tie;
  if (both !== undefined) {
    both.sources.push(source);
    if (clause.verb !== undefined) {
      if (m.oneSide.has(both)) m.oneSide.delete(both);
      else m.oneSide.add(both);
    }
    m.look(both);
    return both;
  }
  return undefined;
}

/** "oil level sensor, pull the plug", "roller chain: the joining link, split it": how it is undone. */
function detailOfLast({ m, phrase, source, clause, lately }: Named): Tie | undefined {
  const { noun } = phrase;
  const head = noun === undefined ? undefined : noun.name.split(" ").map((text) => ({ text }));
  const isDetail =
    head !== undefined &&
    m.language.set.details.at(head, 0)?.length === head.length &&
    (naming(phrase.words, m.language).length <= head.length ||
      (m.language.set.indefinite.is(m.words[phrase.from]) && nounsIn(m, phrase.before).length === 0)) &&
    !phrase.more;
  if (
    isDetail &&
    lately !== undefined &&
    isTie(lately) &&
    (clause.held || DETAIL_OF[noun?.kind ?? ""]?.includes(lately.kind) === true) &&
    (m.touched.has(lately) || ((clause.held || clause.of) && m.touchedBefore.has(lately))) &&
    (!lately.undone || clause.held || phrase.plural === false)
  ) {
    const isThere =
      clause.there &&
      !clause.held &&
      !clause.of &&
      !m.language.set.the.is(m.words[phrase.from]) &&
      clause.verb === undefined;
    if (
      !isThere &&
      !(
        lately.undone &&
        clause.verb !== undefined &&
        (lately.verb ?? "loosen") !== "loosen" &&
        m.language.set.and.is(m.words[phrase.from - 1])
      )
    ) {
      // "feed pipe, return pipe, both unions": one of each.
      const isOfBoth = m.language.set.all.is(m.words[phrase.from]) && lastTwo(m).length === 2;
      if (phrase.count !== undefined && !isOfBoth && (lately.count ?? 1) <= 1) lately.count = phrase.count;
      if (noun?.kind === "flange" && lately.kind === "line") lately.kind = "flange";
      lately.sources.push(source);
      m.look(lately);
      return lately;
    }
  }
  return undefined;
}

/** Whether a connection is called by the last word of a phrase; "the propshaft" is no guard of it. */
const isCalledSo = ({ m, phrase }: Named, tie: Tie): boolean => {
  if (tie.kind === "cover fixing" && phrase.noun?.role !== "cover") return false;
  const key = m.keys.get(tie)?.split(" ") ?? [];
  const last = phrase.words.at(-1) ?? "";
  return key.includes(m.language.singular(last)) || key.includes(keyOf([last], m.language));
};

/** "pull both hoses off", "gearbox mounts, three mounts" */
function countOfLast(named: Named): Tie | undefined {
  const { m, phrase, source, clause, vague } = named;
  const known = m.lastTie();
  const isAll = m.language.set.all.is(m.words[phrase.from]);
  if (
    vague &&
    phrase.count !== undefined &&
    known !== undefined &&
    (isAll ||
      ((m.touched.has(known) || m.touchedBefore.has(known)) &&
        known.hardware === undefined &&
        known.count === undefined)) &&
    isCalledSo(named, known)
  ) {
    // "get both hoses off" after the top hose and the bottom hose
    const two = isAll && phrase.count === 2 ? lastTwo(m) : [];
    if (two.length === 2) for (const one of two) if (clause.verb !== undefined) undo(one, clause.verb, 0.85);
    if (known.hardware === undefined && two.length === 0) {
      known.count = phrase.count;
      m.things.set(known, phrase.count);
    }
    known.sources.push(source);
    m.look(known);
    return known;
  }
  return undefined;
}

/** "the hose", and it can be the last one alone. */
function lastAgain(named: Named): Tie | undefined {
  const { m, phrase, attached, source, vague } = named;
  const article = m.words[phrase.from]?.text;
  const last = m.lastTie();
  if (
    vague &&
    !phrase.more &&
    phrase.count === undefined &&
    attached.length === 0 &&
    !m.language.set.indefinite.has(article) &&
    last !== undefined &&
    (last.count === 1 || last.hardware !== undefined) &&
    !m.differ(phrase.words, last.label.toLowerCase().split(" ")) &&
    isCalledSo(named, last)
  ) {
    last.sources.push(source);
    m.look(last);
    return last;
  }
  return undefined;
}

/** "the hose", of those that were spoken of lately. */
function oneOfLately(named: Named): Tie | undefined {
  const { m, phrase, attached, source, vague } = named;
  const isEach = m.language.set.every.is(m.words[phrase.from]);
  if (vague && (phrase.definite || isEach) && !phrase.more && attached.length === 0) {
    const same = m.focus.findLast(
      (one): one is Tie =>
        isTie(one) &&
        !m.differ(phrase.words, one.label.toLowerCase().split(" ")) &&
        isCalledSo(named, one) &&
        (!one.undone || isEach),
    );
    if (same !== undefined) {
      same.sources.push(source);
      m.look(same);
      return same;
    }
  }
  return undefined;
}

/** One that was not spoken of lately, called after what it is on where its own name does not say which. */
function newlyNamed({ m, phrase, attached, source, clause, lately, vague }: Named): Tie {
  const { noun } = phrase;
  const { labels } = m.language;
  const hint = clause.verb === undefined ? undefined : m.language.verbKinds.get(clause.verb.lemma);
  const kind = kindOf(
    hint === "clip" && (noun?.kind === "wire" || noun?.kind === "cable") ? "clip" : kindIn(m, phrase),
  );
  const host = attached.find(
    ({ link, phrase: one }) =>
      one.noun !== undefined && (link === "to" || link === "on" || link === "of" || link === "from"),
  );
  const near = host ?? attached.find(({ phrase: one }) => one.noun !== undefined);
  const label =
    vague && near !== undefined
      ? `${labelOf(phrase, m.language)} ${labels[host === undefined ? "near" : host.link === "to" || host.link === "from" ? host.link : "on"]} ${labelOf(near.phrase, m.language).toLowerCase()}`
      : labelOf(phrase, m.language);
  // "the cooler fan has a connector", "the exhaust stack … its bracket"
  // "the hydraulic pump, there's three hoses on it"
  const { links, set } = m.language;
  const isOnIt = links.is(m.words[phrase.to]) && set.pointing.is(m.words[phrase.to + 1]);
  const has =
    lately !== undefined &&
    !isTie(lately) &&
    ((clause.held && m.touched.has(lately)) || (isOnIt && (m.touched.has(lately) || m.touchedBefore.has(lately))));
  const owner =
    vague && (has || m.language.set.its.is(m.words[phrase.from])) && near === undefined ? lately?.label : undefined;
  const key =
    owner !== undefined
      ? [...owner.toLowerCase().split(" "), ...phrase.words]
      : vague && near !== undefined
        ? [...phrase.words, ...near.phrase.words]
        : phrase.words;
  return connectionOf(
    m,
    owner === undefined ? label : `${owner} ${naming(phrase.words, m.language).join(" ")}`,
    kind,
    phrase,
    key,
    source,
    attached,
  );
}
