// Owns the remarks: what was not said and matters, each with the words that raise it.

import { ties as tiesOf } from "../release/index.ts";
import type { BothSides, Source, Tie, Told } from "./item.ts";
import { fluidOf, VEHICLE } from "./joined.ts";
import type { Language } from "./language.ts";
import { wordsOf } from "./names.ts";
import { filled } from "./says.ts";

export type RemarkRule =
  | "no-drain"
  | "no-support"
  | "one-of-both-sides"
  | "place-not-covered"
  | "two-names"
  | "still-tied"
  | "not-as-many"
  | "no-isolation"
  | "only-loosened";

type Joins = ReadonlyMap<string, readonly [string, string]>;

export interface Remark {
  readonly rule: RemarkRule;
  readonly text: string;
  /** Ids of the connections it is about. */
  readonly about: readonly string[];
  readonly source?: Source;
}

/** What a draft leaves unsaid. `stood`: the positions that somebody went to; `oneSide`: told of both sides, undone on one; `joins`: the ends of each connection. */
export function remarksOn(
  told: Told,
  assembly: string,
  stood: ReadonlySet<string>,
  oneSide: ReadonlySet<Tie>,
  language: Language,
  joins: Joins,
): Remark[] {
  const remarks: Remark[] = [];
  const { says, compounds } = language;
  const add = (
    rule: RemarkRule,
    text: string,
    ties: readonly Tie[],
    source: Source | undefined = ties[0]?.sources[0],
  ) => remarks.push({ rule, text, about: ties.map(({ id }) => id), ...(source === undefined ? {} : { source }) });
  const does = (...what: string[]) => told.tasks.filter((task) => what.includes(task.does));

  const wet = new Map<string, Tie[]>();
  const drains = does("drain", "vent");
  for (const [at, tie] of told.ties.entries()) {
    if (!tie.undone) continue;
    const fluid =
      fluidOf(tie, language) ?? (drains.length === 0 && isWet(tie, language) ? language.labels.fluid : undefined);
    // Compressed air is let out, and is no fluid to catch.
    if (fluid === undefined || language.set.dry.has(fluid)) continue;
    const drained = drains.some(
      (task) =>
        (task.after <= at ||
          (task.after === at + 1 && task.sources.some(({ words }) => saysDrained(words, language)))) &&
        (task.fluid === undefined || task.fluid === fluid || task.fluid.endsWith(fluid) || fluid.endsWith(task.fluid)),
    );
    if (!drained) wet.set(fluid, [...(wet.get(fluid) ?? []), tie]);
  }
  if (wet.size > 0) {
    const ties = [...wet.values()].flat();
    add(
      "no-drain",
      filled(says.undrained, {
        names: ties.map(({ label }) => label).join(", "),
        fluids: [...wet.keys()].map((fluid) => compounds.noun(fluid)).join(says.orThe),
      }),
      ties,
    );
  }

  const mount = told.ties.find((tie) => tie.kind === "mount" && tie.undone);
  if (mount !== undefined && !does("support", "sling").some((task) => task.after <= told.ties.indexOf(mount)))
    add("no-support", filled(says.unsupported, { name: mount.label }), [mount]);

  for (const both of told.bothSides)
    if (isMissing(both, oneSide))
      add("one-of-both-sides", filled(says.oneSide, { name: both.tie.label }), [both.tie], both.source);

  for (const tie of told.ties)
    if (tie.undone && tie.at !== undefined && !stood.has(tie.at) && stood.size > 0)
      add(
        "place-not-covered",
        filled(says.nowhere, {
          name: tie.label,
          place: told.positions.find(({ id }) => id === tie.at)?.label ?? tie.at,
        }),
        [tie],
      );

  for (const { tie, other, source } of told.twoNames)
    add("two-names", filled(says.oneThing, { name: tie.label, other }), [tie], source);

  const live = told.ties.find((tie) => tie.undone && (tie.kind === "cable" || tie.kind === "wire"));
  if (
    live !== undefined &&
    does("isolate").length === 0 &&
    // A strap from the block to the frame is an earth, and leaves everything live; so does what is undone later.
    ![...told.ties.slice(0, told.ties.indexOf(live) + 1).filter(({ kind }) => kind !== "strap"), ...told.parts].some(
      ({ label }) => language.set.isolators.within(label),
    )
  )
    add("no-isolation", filled(says.live, { name: live.label }), [live]);

  remarks.push(...closings(told, assembly, joins, language));
  return remarks;
}

/** A hose or line whose name does not say what it holds, and not that it holds air alone. */
const isWet = ({ kind, label, joins }: Tie, language: Language): boolean =>
  (kind === "hose" || kind === "line") &&
  ![label, ...joins]
    .join(" ")
    .toLowerCase()
    .split(/[^\p{L}]+/u)
    .flatMap((word) => language.compounds.split(word))
    .some((text) => language.set.dry.has(text));

const saysDrained = (words: string, { set }: Language): boolean =>
  words.split(" ").some((word) => set.drained.has(word));

const isBolted = ({ hardware, label }: Tie, language: Language): boolean =>
  wordsOf(hardware ?? label, language).some((word) => {
    const noun = language.nouns.get(word);
    return noun?.role === "fixing" && noun.kind === "bolted joint";
  });

const isMissing = ({ tie }: BothSides, oneSide: ReadonlySet<Tie>): boolean => tie.undone && oneSide.has(tie);

/** What the closing remarks claim, against what was told and against the search for freedom. */
function closings(told: Told, assembly: string, joins: Joins, language: Language): Remark[] {
  const remarks: Remark[] = [];
  const { says, compounds } = language;
  const said = new Set<string>();
  const claim = (rule: RemarkRule, tie: Tie, text: string, source: Source) => {
    if (said.has(tie.id)) return;
    said.add(tie.id);
    remarks.push({ rule, text, about: [tie.id], source });
  };
  const bears = (tie: Tie) =>
    (["mount", "bolted joint", "flange", "shaft joint", "bracket"].includes(tie.kind) ||
      (tie.kind === "coupling" && isBolted(tie, language))) &&
    !language.set.adjusters.within(tie.label);
  const byPlace = new Map<string | undefined, { readonly tie: Tie; readonly i: number }[]>();
  for (const [i, tie] of told.ties.entries()) {
    const there = byPlace.get(tie.at);
    if (there === undefined) byPlace.set(tie.at, [{ tie, i }]);
    else there.push({ tie, i });
  }
  let searched = -1;
  // A talk says a few times that all is free; of more than a dozen the last ones count.
  const finals = told.closings.filter(({ final }) => final).slice(-12);
  for (const closing of told.closings) {
    const here = (byPlace.get(closing.at) ?? []).filter(({ i }) => i < closing.after).map(({ tie }) => tie);
    if (closing.claimed !== undefined && closing.at !== undefined && here.length > 0) {
      const pieces = here.reduce((sum, { count }) => sum + (count ?? 1), 0);
      const last = here.at(-1);
      if (
        last !== undefined &&
        closing.claimed !== here.length &&
        closing.claimed !== pieces &&
        closing.claimed !== last.count
      )
        remarks.push({
          rule: "not-as-many",
          text: filled(says.notAsMany, { claimed: closing.claimed, told: here.length }),
          about: here.map(({ id }) => id),
          source: closing.source,
        });
    }
    for (const tie of here)
      if (!tie.undone && !said.has(tie.id))
        claim(
          "still-tied",
          tie,
          filled(says.stillOn, { words: closing.source.words, name: compounds.inside(tie.label) }),
          closing.source,
        );
    if (!finals.includes(closing) || closing.after === searched) continue;
    searched = closing.after;
    const before = told.ties.slice(0, closing.after);
    // The release computation on the draft: with what was undone released, does anything still lead to the vehicle?
    const released = before.filter((tie) => tie.undone && !(tie.verb === "loosen" && bears(tie))).map(({ id }) => id);
    const graph = {
      parts: [
        { id: VEHICLE, fixed: true },
        { id: assembly, fixed: false },
        ...told.parts.flatMap(({ id }) => (id === VEHICLE || id === assembly ? [] : [{ id, fixed: false }])),
      ],
      connections: before.map(({ id }) => ({ id, joins: joins.get(id) ?? [assembly, VEHICLE] })),
    };
    for (const { id } of tiesOf(graph, released, [assembly]).ties) {
      const tie = before.find((one) => one.id === id);
      if (tie === undefined) continue;
      if (tie.verb === "loosen" && tie.undone)
        claim("only-loosened", tie, filled(says.loosened, { name: tie.label }), closing.source);
      else claim("still-tied", tie, filled(says.stillTies, { name: compounds.inside(tie.label) }), closing.source);
    }
  }
  return remarks;
}
