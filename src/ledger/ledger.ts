// Owns the ledger: a set of entries, and how everything stands by them. The same set gives the same standing, in whatever order it came and however often.

import type { Brief, BriefJoint } from "./brief.ts";
import { type Claim, foldClaim } from "./claim.ts";
import { type Count, foldCount } from "./count.ts";
import { type EnergyStanding, foldEnergy } from "./energy.ts";
import { compareEntries, type Entry } from "./entry.ts";
import { type Finding, foldFinding } from "./finding.ts";
import { foldJoint, type Joint } from "./joint.ts";
import type { Body, BodyOf, Kind } from "./kinds.ts";
import { foldPart, type PartStanding } from "./part.ts";
import { type Contradiction, contradiction } from "./rules.ts";
import { namedBy, type Subject, subjectOf } from "./subject.ts";
import { foldTask, type TaskStanding } from "./task.ts";

/** An entry of one kind. */
export type EntryOf<K extends Kind> = Entry & { readonly body: BodyOf<K> };

/** All entries about one subject, in their order, void ones among them. */
interface Page {
  readonly subject: Subject;
  readonly entries: Entry[];
  /** The standing by the entries that count; absent after a change. */
  folded?: { readonly standing: unknown; readonly contradictions: readonly Contradiction[] };
}

const keyOf = (subject: Subject): string =>
  `${subject.kind}:${subject.id}${subject.kind === "thing" ? `@${subject.at ?? ""}` : ""}`;

/** Puts an entry where it belongs; most come last. */
const insert = (entries: Entry[], entry: Entry): void => {
  let place = entries.length;
  while (place > 0 && compareEntries(entries[place - 1] as Entry, entry) > 0) place--;
  entries.splice(place, 0, entry);
};

/** Entries given and a brief: how it all stands. Adding one entry costs what its subject's own entries cost, not what the ledger's do. */
export class Ledger {
  readonly brief: Brief;
  private readonly byId = new Map<string, Entry>();
  private readonly pages = new Map<string, Page>();
  private readonly corrections = new Map<string, EntryOf<"correction">[]>();
  private readonly settlements = new Map<string, Entry[]>();
  private readonly strangers = new Map<string, Contradiction>();
  private readonly clashes = new Map<string, Contradiction>();
  private readonly joints: ReadonlyMap<string, BriefJoint>;
  private readonly works: ReadonlySet<string>;
  private readonly known: Readonly<Record<"joint" | "task" | "part" | "position" | "any", ReadonlySet<string>>>;
  private readonly foremen: ReadonlySet<string>;
  private readonly troubled = new Set<Page>();
  private readonly stale = new Set<Page>();

  constructor(brief: Brief, entries: Iterable<Entry> = []) {
    this.brief = brief;
    this.joints = new Map(brief.joints.map((joint) => [joint.id, joint]));
    this.works = new Set(brief.works.map(({ id }) => id));
    // The job's work is looked at as a joint is.
    const joint = new Set([...this.joints.keys(), ...this.works]);
    const task = new Set([...brief.tasks, ...brief.works].map(({ id }) => id));
    const part = new Set(brief.parts.map(({ id }) => id));
    const position = new Set(brief.positions.map(({ id }) => id));
    const hangs = brief.hangs.map(({ id }) => id);
    this.known = { joint, task, part, position, any: new Set([...joint, ...task, ...part, ...position, ...hangs]) };
    this.foremen = new Set(brief.people.filter(({ roles }) => roles.includes("foreman")).map(({ id }) => id));
    for (const entry of entries) this.add(entry);
  }

  /** Takes an entry in; false when it was there already. */
  add(entry: Entry): boolean {
    const twin = this.byId.get(entry.id);
    if (twin !== undefined) {
      // Both are shown; the one that comes first in the one order counts, whichever arrived first.
      if (twin.signature === entry.signature) return false;
      this.clashes.set(entry.id, contradiction("D1", entry.id, entry.id));
      if (twin.signature < entry.signature) return false;
      this.remove(twin);
    }
    this.byId.set(entry.id, entry);
    const { body } = entry;
    if (body.kind === "correction") {
      const of = this.corrections.get(body.of) ?? [];
      of.push(entry as EntryOf<"correction">);
      this.corrections.set(body.of, of);
      this.touch(body.of);
      return true;
    }
    if (body.kind === "settled") {
      this.settlements.set(body.contradiction, [...(this.settlements.get(body.contradiction) ?? []), entry]);
      return true;
    }
    for (const subject of subjectOf(body)) {
      const page = this.pageOf(
        subject.kind === "finding" && subject.id === "" ? { ...subject, id: entry.id } : subject,
      );
      insert(page.entries, entry);
      this.spoil(page);
    }
    const strange = this.strangerIn(body);
    if (strange !== undefined) this.strangers.set(entry.id, contradiction("U1", strange.id, entry.id));
    return true;
  }

  /** The same entries under another plan's brief. */
  under(brief: Brief): Ledger {
    return new Ledger(brief, this.byId.values());
  }

  get size(): number {
    return this.byId.size;
  }

  entry(id: string): Entry | undefined {
    return this.byId.get(id);
  }

  /** Every entry in the one order. */
  all(): readonly Entry[] {
    return [...this.byId.values()].sort(compareEntries);
  }

  /** The first id of a body that the vehicle file does not have as what it should be, and those it has. */
  strangerIn(body: Body): { readonly id: string; readonly as: string; readonly known: Iterable<string> } | undefined {
    const strange = namedBy(body).find(({ id, as }) => !this.known[as].has(id));
    return strange === undefined ? undefined : { id: strange.id, as: strange.as, known: this.known[strange.as] };
  }

  /** Whether a correction has taken an entry back. */
  isVoid(entry: Entry): boolean {
    return (this.corrections.get(entry.id) ?? []).some(
      (one) => this.mayCorrect(one, entry) && compareEntries(one, entry) > 0 && !this.isVoid(one),
    );
  }

  joint(id: string): Joint {
    const start = this.works.has(id) ? "refitted" : this.joints.get(id)?.before === true ? "released" : "tied";
    return this.fold({ kind: "joint", id }, (entries) => foldJoint(id, start, entries));
  }

  task(id: string): TaskStanding {
    return this.fold({ kind: "task", id }, (entries) => foldTask(id, entries));
  }

  energy(id: string): EnergyStanding {
    return this.fold({ kind: "energy", id }, (entries) => foldEnergy(id, entries));
  }

  part(id: string): PartStanding {
    return this.fold({ kind: "part", id }, (entries) => foldPart(id, entries));
  }

  claim(kind: Claim["kind"], place: string): Claim {
    const fold = (entries: readonly Entry[]) => ({ ...foldClaim(place, kind, entries), contradictions: [] });
    return this.fold({ kind, id: place }, fold);
  }

  /** Positions and systems at which somebody is. */
  claims(): readonly Claim[] {
    return [...this.subjects("position"), ...this.subjects("system")]
      .map(({ kind, id }) => this.claim(kind as Claim["kind"], id))
      .filter(({ people }) => people.size > 0);
  }

  /** Temporary things that were ever put in. */
  things(): readonly Count[] {
    return this.subjects("thing").map((subject) => {
      const at = subject.kind === "thing" ? subject.at : undefined;
      return this.fold(subject, (entries) => foldCount(subject.id, at, entries));
    });
  }

  tools(): readonly Count[] {
    return this.subjects("tool").map((subject) => this.fold(subject, (list) => foldCount(subject.id, undefined, list)));
  }

  findings(): readonly Finding[] {
    return this.subjects("finding").flatMap((subject) => {
      const folded = this.fold(subject, (entries) => ({ finding: foldFinding(entries), contradictions: [] }));
      return folded.finding === undefined ? [] : [folded.finding];
    });
  }

  /** The entries that count of a list that has no standing of its own, in their order. */
  list<K extends Kind>(
    of: "gates" | "shift" | "plan" | "remarks" | "hours",
    ...kinds: readonly K[]
  ): readonly EntryOf<K>[] {
    const page = this.pages.get(keyOf({ kind: of, id: "" }));
    const isOne = (entry: Entry): entry is EntryOf<K> => (kinds as readonly Kind[]).includes(entry.body.kind);
    return (page?.entries ?? []).filter(isOne).filter((entry) => !this.isVoid(entry));
  }

  /** The plan in force: the last that replaced another, else the brief's. */
  planInForce(): string {
    return this.list("plan", "plan replaced").at(-1)?.body.plan ?? this.brief.plan;
  }

  /** Contradictions that nobody has settled yet. */
  contradictions(): readonly Contradiction[] {
    for (const page of this.stale) this.standing(page);
    const all = [
      ...[...this.troubled].flatMap((page) => page.folded?.contradictions ?? []),
      ...[...this.strangers].flatMap(([id, one]) => (this.counts(id) ? [one] : [])),
      ...this.clashes.values(),
      ...this.unallowed(),
      ...this.early(),
      ...this.shifts(),
    ];
    return all.filter(({ key }) => !this.isSettled(key)).sort((a, b) => (a.key < b.key ? -1 : 1));
  }

  isSettled(key: string): boolean {
    return (this.settlements.get(key) ?? []).some((entry) => !this.isVoid(entry));
  }

  private counts(id: string): boolean {
    const entry = this.byId.get(id);
    return entry !== undefined && !this.isVoid(entry);
  }

  private mayCorrect(correction: Entry, of: Entry): boolean {
    return correction.author === of.author || this.foremen.has(correction.author);
  }

  private unallowed(): readonly Contradiction[] {
    return [...this.corrections].flatMap(([of, list]) => {
      const target = this.byId.get(of);
      return target === undefined
        ? []
        : list
            .filter((one) => !this.mayCorrect(one, target) && !this.isVoid(one))
            .map((one) => contradiction("C1", of, one.id));
    });
  }

  /** Releases before what must come first, but for what the plan opens to get at that. */
  private early(): readonly Contradiction[] {
    const { first, steps } = this.brief;
    const begun = first.map((id) => {
      const entry = this.joints.has(id) ? this.joint(id).firstOpened : this.task(id).firstDone;
      const wanted = steps.findIndex((step) => step.id === id);
      return { entry: entry === undefined ? undefined : this.byId.get(entry), wanted };
    });
    if (begun.length === 0) return [];
    const planned = new Map(steps.map(({ id }, place) => [id, place] as const).reverse());
    return this.subjects("joint").flatMap(({ id }) => {
      const opened = first.includes(id) ? undefined : this.joint(id).firstOpened;
      const entry = opened === undefined ? undefined : this.byId.get(opened);
      if (entry === undefined) return [];
      const own = planned.get(id) ?? Number.POSITIVE_INFINITY;
      const early = begun.some(
        (one) => own > one.wanted && (one.entry === undefined || compareEntries(one.entry, entry) > 0),
      );
      return early ? [contradiction("F1", id, entry.id)] : [];
    });
  }

  /** A shift that somebody else took than it was handed to. */
  private shifts(): readonly Contradiction[] {
    let handed: EntryOf<"handing over" | "taken over"> | undefined;
    const found: Contradiction[] = [];
    for (const entry of this.list("shift", "handing over", "taken over")) {
      const { body } = entry;
      if (body.kind === "handing over") handed = entry;
      else {
        const fits =
          handed?.body.kind === "handing over" && handed.author === body.from && handed.body.to === entry.author;
        if (!fits)
          found.push(contradiction("W1", entry.author, ...(handed === undefined ? [] : [handed.id]), entry.id));
        handed = undefined;
      }
    }
    return found;
  }

  /** Whatever stands on an entry must be folded again. */
  private touch(id: string): void {
    const entry = this.byId.get(id);
    if (entry === undefined) return;
    if (entry.body.kind === "correction") {
      this.touch(entry.body.of);
      return;
    }
    for (const subject of subjectOf(entry.body)) {
      const page = this.pages.get(
        keyOf(subject.kind === "finding" && subject.id === "" ? { ...subject, id } : subject),
      );
      if (page !== undefined) this.spoil(page);
    }
  }

  private spoil(page: Page): void {
    delete page.folded;
    this.stale.add(page);
  }

  /** Takes out an entry that did not become durable. */
  remove(entry: Entry): void {
    this.touch(entry.id);
    this.byId.delete(entry.id);
    this.strangers.delete(entry.id);
    for (const page of this.pages.values()) {
      const place = page.entries.indexOf(entry);
      if (place < 0) continue;
      page.entries.splice(place, 1);
      this.spoil(page);
    }
    for (const lists of [this.corrections as Map<string, Entry[]>, this.settlements])
      for (const [key, list] of lists)
        lists.set(
          key,
          list.filter((one) => one !== entry),
        );
  }

  private pageOf(subject: Subject): Page {
    const key = keyOf(subject);
    let page = this.pages.get(key);
    if (page === undefined) {
      page = { subject, entries: [] };
      this.pages.set(key, page);
    }
    return page;
  }

  private subjects(kind: Subject["kind"]): readonly Subject[] {
    return [...this.pages.values()].flatMap(({ subject }) => (subject.kind === kind ? [subject] : []));
  }

  private fold<T extends { readonly contradictions: readonly Contradiction[] }>(
    subject: Subject,
    fold: (entries: readonly Entry[]) => T,
  ): T {
    const page = this.pageOf(subject);
    if (page.folded === undefined) {
      const standing = fold(page.entries.filter((entry) => !this.isVoid(entry)));
      page.folded = { standing, contradictions: standing.contradictions };
      this.stale.delete(page);
      if (standing.contradictions.length > 0) this.troubled.add(page);
      else this.troubled.delete(page);
    }
    return page.folded.standing as T;
  }

  private standing(page: Page): void {
    const { subject } = page;
    switch (subject.kind) {
      case "joint":
        this.joint(subject.id);
        break;
      case "task":
        this.task(subject.id);
        break;
      case "energy":
        this.energy(subject.id);
        break;
      case "part":
        this.part(subject.id);
        break;
      case "thing":
        this.fold(subject, (entries) => foldCount(subject.id, subject.at, entries));
        break;
      case "tool":
        this.fold(subject, (entries) => foldCount(subject.id, undefined, entries));
        break;
      default:
        this.stale.delete(page);
    }
  }
}
