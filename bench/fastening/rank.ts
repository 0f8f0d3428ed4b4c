// Owns the measure of the left-over ranking: how often the connection that is short stands first, and among the first three.

import { rankLeftover } from "../../src/fastening/index.ts";
import { ceilingOf } from "./ceiling.ts";
import { type Forgotten, forget, type Shop } from "./forgotten.ts";

export interface RankRow {
  readonly shop: string;
  readonly jobs: number;
  readonly first: number;
  readonly three: number;
  /** No ranking can do better than this, if it knew every habit of the shop. */
  readonly ceilingFirst: number;
  readonly ceilingThree: number;
  /** The same for the plain way: bags that hold the item, the open ones first, in the order of the list. */
  readonly plainFirst: number;
  readonly plainThree: number;
  /** Mean chance that the ranking gave to whatever it put first: should be about `first`. */
  readonly said: number;
}

/** Ranks `jobs` simulated jobs of 40 to 120 connections. */
export function measureRanking(name: string, shop: Shop, jobs: number, seed = 1): RankRow {
  let [first, three, ceilingFirst, ceilingThree, plainFirst, plainThree, said] = [0, 0, 0, 0, 0, 0, 0];
  for (let i = 0; i < jobs; i++) {
    const one = forget(seed * 100_003 + i, 40 + ((i * 37) % 81), shop);
    const answer = rankLeftover(one.question);
    if ("faults" in answer) throw new Error(answer.faults.map(({ what }) => what).join("; "));
    const { suspects } = answer.answer;
    const place = suspects.findIndex(({ connection }) => connection === one.truth);
    if (place === 0) first++;
    if (place >= 0 && place < 3) three++;
    said += suspects[0]?.chance ?? 0;
    const ceiling = ceilingOf(one, shop);
    ceilingFirst += ceiling.first;
    ceilingThree += ceiling.three;
    const plain = plainly(one).indexOf(one.truth);
    if (plain === 0) plainFirst++;
    if (plain >= 0 && plain < 3) plainThree++;
  }
  return {
    shop: name,
    jobs,
    first: first / jobs,
    three: three / jobs,
    ceilingFirst: ceilingFirst / jobs,
    ceilingThree: ceilingThree / jobs,
    plainFirst: plainFirst / jobs,
    plainThree: plainThree / jobs,
    said: said / jobs,
  };
}

function plainly({ question: { bags, left } }: Forgotten): string[] {
  const items = new Set(left.map(({ item }) => item));
  const holding = bags.filter((bag) => bag.items.some(({ item }) => items.has(item)));
  return [...holding.filter(({ open }) => open), ...holding.filter(({ open }) => !open)].map(
    ({ connection }) => connection,
  );
}
