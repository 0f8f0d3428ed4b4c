// Owns what holds each part in the course of a legal order, and so which releases must wait for which supports in every other order of the same steps.
//
// A part is held by one thing after another: by a chain of connections, then by the sling, then by having gone up. Each thing that holds it has what makes it
// (the sling is on) and what breaks it (a connection of the chain is released). When everything that makes the next is there before anything breaks the one
// before, the part is held at every moment, in whatever order the rest is done.

import type { Task } from "../release/index.ts";
import type { Moments } from "./moments.ts";

/** What holds a part for a while. */
interface Hold {
  /** Steps that must have been made for it. */
  readonly made: readonly string[];
  /** Toggles that must be on for it. */
  readonly on: readonly string[];
  /** Steps that end it. */
  readonly ends: readonly string[];
  /** The first moment of the order at which it holds no longer. */
  readonly until: number;
}

/** A toggle that may not be undone from the beginning of one step to the end of another, or, without one, to the end of the order. */
export interface Keep {
  readonly toggle: string;
  readonly from: string;
  readonly until?: string;
}

export interface Holding {
  /** Pairs of steps: the first must be made before the second. */
  readonly before: readonly (readonly [string, string])[];
  /** A step and the toggle that must be on for it. */
  readonly on: readonly (readonly [string, string])[];
  readonly keeps: readonly Keep[];
  /** A toggle that is undone only while another is on. */
  readonly handed: readonly (readonly [string, string])[];
  /** Parts held only as long as their body is made up exactly so: standing on released mounts, or strapped. */
  readonly exact: readonly (readonly string[])[];
}

/** How something firm holds: what was there first is the better, then what stays for good, a state of the vehicle last. */
const RANK = { fixed: 3, up: 2, made: 1, toggle: 0 } as const;

interface Root {
  readonly part: string;
  readonly rank: number;
  readonly until: number;
  readonly made: readonly string[];
  readonly on: readonly string[];
}

/** A chain from a part to something firm. */
interface Chain extends Root {
  readonly ends: readonly string[];
}

const FOREVER = Number.POSITIVE_INFINITY;

class Holder {
  private readonly moments: Moments;
  /** By part, the lift that it goes up with. */
  private readonly liftOf: ReadonlyMap<string, string>;
  private readonly supports: readonly Task[];
  private readonly exact: (readonly string[])[] = [];

  constructor(moments: Moments, ups: ReadonlyMap<string, string>) {
    this.moments = moments;
    this.liftOf = ups;
    this.supports = moments.problem.tasks.filter((task) => task.supports.length > 0);
  }

  find(): Holding {
    const { problem, order } = this.moments;
    const before: (readonly [string, string])[] = [];
    const on: (readonly [string, string])[] = [];
    const keeps: Keep[] = [];
    const handed: (readonly [string, string])[] = [];
    const atFirst = this.chainsAt(0);
    for (const { id: part, fixed } of problem.parts) {
      // What nothing carried before the first step is outside the rule.
      if (fixed || !atFirst.has(part)) continue;
      let froms: readonly string[] = [];
      let hold = this.holdAt(part, 0, atFirst);
      while (hold !== undefined && hold.until <= order.length) {
        const { ends, on: toggles } = hold;
        const next = this.holdAt(part, hold.until, this.chainsAt(hold.until));
        if (next === undefined) break;
        const releases = ends.filter((id) => this.moments.isStep(id));
        for (const end of releases) {
          for (const made of next.made) if (made !== end) before.push([made, end]);
          for (const toggle of next.on) on.push([end, toggle]);
        }
        for (const toggle of toggles) {
          for (const from of froms) for (const until of next.made) keeps.push({ toggle, from, until });
          for (const other of next.on) if (other !== toggle) handed.push([toggle, other]);
        }
        // Handed over from one state to another, no step begins it: it is kept from where the first was needed.
        if (releases.length > 0) froms = releases;
        hold = next;
      }
      for (const toggle of hold?.on ?? []) for (const from of froms) keeps.push({ toggle, from });
    }
    return { before, on, keeps, handed, exact: this.exact };
  }

  /** What holds a part at a moment, the longest. */
  private holdAt(part: string, moment: number, chains: ReadonlyMap<string, Chain>): Hold | undefined {
    const chain = chains.get(part);
    const aside = this.asideAt(part, moment);
    // On the bench is better than in the sling, where both last.
    const firm = chain?.rank === RANK.toggle ? aside === undefined || chain.until > aside.until : chain !== undefined;
    if (chain !== undefined && firm && chain.until >= (aside?.until ?? 0)) return chain;
    return aside ?? this.exactAt(part, moment, chains);
  }

  /** Everything firm at a moment, and from each part the chain to it that lasts longest. */
  private chainsAt(moment: number): ReadonlyMap<string, Chain> {
    const { problem } = this.moments;
    const best = new Map<string, Chain>();
    const better = (part: string, chain: Chain): boolean => {
      const known = best.get(part);
      if (
        known !== undefined &&
        (known.until > chain.until || (known.until === chain.until && known.rank >= chain.rank))
      )
        return false;
      best.set(part, chain);
      return true;
    };
    for (const root of this.rootsAt(moment))
      better(root.part, { ...root, ends: root.on.length > 0 ? [...root.on] : [] });
    const made = problem.connections.filter((one) => one.carrying && this.moments.from(one.id) > moment);
    for (let grown = true; grown; ) {
      grown = false;
      for (const { id, joins } of made) {
        for (const from of joins) {
          const chain = best.get(from);
          if (chain === undefined) continue;
          const released = this.moments.from(id);
          const longer: Chain = {
            ...chain,
            until: Math.min(chain.until, released),
            ends: released === FOREVER ? chain.ends : [...chain.ends, id],
          };
          for (const to of joins) if (to !== from && better(to, longer)) grown = true;
        }
      }
    }
    return best;
  }

  private rootsAt(moment: number): readonly Root[] {
    const { problem } = this.moments;
    const roots: Root[] = [];
    for (const { id, fixed } of problem.parts) {
      if (fixed) roots.push({ part: id, rank: RANK.fixed, until: FOREVER, made: [], on: [] });
      const lift = this.liftOf.get(id);
      if (lift !== undefined && this.moments.from(lift) <= moment)
        roots.push({ part: id, rank: RANK.up, until: FOREVER, made: [lift], on: [] });
    }
    for (const { id, supports, toggle } of this.supports) {
      const spell = this.moments.spellAt(id, moment);
      for (const part of supports) {
        if (toggle && spell !== undefined)
          roots.push({ part, rank: RANK.toggle, until: spell.until, made: [], on: [id] });
        if (!toggle && this.moments.from(id) <= moment)
          roots.push({ part, rank: RANK.made, until: FOREVER, made: [id], on: [] });
      }
    }
    return roots;
  }

  /** Set aside: every connection released, in no hang, light enough for two hands. */
  private asideAt(id: string, moment: number): Hold | undefined {
    const { problem } = this.moments;
    const part = problem.parts.find((one) => one.id === id);
    if (part === undefined || part.mass > problem.handLimit) return undefined;
    const own = problem.connections.filter((one) => one.joins.includes(id)).map((one) => one.id);
    if (own.some((one) => this.moments.from(one) > moment)) return undefined;
    const hangs = problem.tasks.filter(
      ({ id: task, hang }) => (hang?.part === id || hang?.to === id) && this.moments.from(task) < FOREVER,
    );
    if (hangs.some((task) => this.moments.from(task.id) <= moment)) return undefined;
    return {
      made: own.filter((one) => this.moments.isStep(one)),
      on: [],
      ends: hangs.map((task) => task.id),
      until: Math.min(FOREVER, ...hangs.map((task) => this.moments.from(task.id))),
    };
  }

  /** Standing on released mounts, or hung by a strap: as long as the body, and what bears it, is made up as it is now. */
  private exactAt(id: string, moment: number, chains: ReadonlyMap<string, Chain>): Hold | undefined {
    const { problem } = this.moments;
    const carrying = problem.connections.filter((one) => one.carrying);
    const body = new Set([id]);
    for (let before = -1; before < body.size; ) {
      before = body.size;
      for (const { id: one, joins } of carrying)
        if (this.moments.from(one) > moment && joins.some((part) => body.has(part)))
          for (const part of joins) body.add(part);
    }
    const touching = carrying.filter(({ joins }) => joins.some((part) => body.has(part)));
    const strapped = problem.tasks.filter(
      ({ id: task, hang }) => hang !== undefined && body.has(hang.part) && this.moments.from(task) <= moment,
    );
    const bearing = [
      ...strapped.flatMap(({ hang }) => hang?.to ?? []),
      ...touching
        .filter(({ id: one, rests }) => rests && this.moments.from(one) <= moment)
        .flatMap(({ joins }) => joins.filter((part) => !body.has(part))),
    ];
    const firm = [...new Set(bearing)].flatMap((part) => chains.get(part) ?? []);
    if (firm.length === 0) return undefined;
    const later = touching.filter(({ id: one }) => this.moments.from(one) > moment && this.moments.isStep(one));
    this.exact.push([...body]);
    return {
      made: [
        ...strapped.map((task) => task.id),
        ...touching
          .filter(({ id: one }) => this.moments.isStep(one) && this.moments.from(one) <= moment)
          .map((one) => one.id),
        ...firm.flatMap((chain) => chain.made),
      ],
      on: firm.flatMap((chain) => chain.on),
      ends: [...later.map((one) => one.id), ...firm.flatMap((chain) => chain.ends)],
      until: Math.min(...later.map((one) => this.moments.from(one.id)), ...firm.map((chain) => chain.until)),
    };
  }
}

/**
 * What every order must keep to so that each part stays held.
 *
 * @param ups by part, the lift that it goes up with.
 */
export const holdingOf = (moments: Moments, ups: ReadonlyMap<string, string>): Holding =>
  new Holder(moments, ups).find();
