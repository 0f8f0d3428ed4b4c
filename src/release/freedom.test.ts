// What still ties parts to the vehicle.
import { describe, expect, test } from "vitest";
import { makeChance } from "../../bench/release/chance.ts";
import { randomProblem } from "../../bench/release/random.ts";
import { chainSentence, type TieGraph, ties } from "./freedom.ts";

// An engine in a frame: mount and exhaust to the frame, the pump on its flange with a hose to the cab, a harness that joins three.
const ENGINE: TieGraph = {
  parts: [
    { id: "frame", fixed: true },
    { id: "cab", fixed: true },
    { id: "engine", fixed: false },
    { id: "pump", fixed: false },
    { id: "box", fixed: false },
  ],
  connections: [
    { id: "flange", joins: ["pump", "engine"] },
    { id: "hose", joins: ["cab", "pump"] },
    { id: "mount", joins: ["engine", "frame"] },
    { id: "harness", joins: ["engine", "box", "cab"] },
    { id: "cab-mount", joins: ["cab", "frame"] },
  ],
};

describe("ties", () => {
  test("everything made: the nearest tie, and every tie of the group", () => {
    expect(ties(ENGINE, [], ["engine"])).toEqual({
      free: false,
      group: ["engine", "pump", "box"],
      chain: ["engine", "mount", "frame"],
      ties: [
        { id: "mount", parts: ["engine"], fixed: ["frame"] },
        { id: "harness", parts: ["engine", "box"], fixed: ["cab"] },
        { id: "hose", parts: ["pump"], fixed: ["cab"] },
      ],
    });
  });

  test("the hose forgotten behind the pump: the chain names it", () => {
    const freedom = ties(ENGINE, ["mount", "harness"], ["engine"]);
    expect(freedom.chain).toEqual(["engine", "flange", "pump", "hose", "cab"]);
    expect(chainSentence(freedom)).toBe("Still tied: engine – flange – pump – hose – cab.");
    expect(chainSentence(freedom, (id) => id.toUpperCase())).toBe("Still tied: ENGINE – FLANGE – PUMP – HOSE – CAB.");
  });

  test("free, with what goes along", () => {
    const freedom = ties(ENGINE, ["mount", "harness", "hose"], ["engine"]);
    expect(freedom).toEqual({ free: true, group: ["engine", "pump"], chain: [], ties: [] });
    expect(chainSentence(freedom)).toBe("No unreleased connection ties it to anything fixed.");
  });

  test("a tie between two fixed parts holds nothing", () => {
    expect(ties(ENGINE, ["mount", "harness", "hose"], ["engine"]).ties).toEqual([]);
  });

  test("a hang ties like a connection", () => {
    const hang = { id: "strap", joins: ["pump", "frame"] };
    expect(ties(ENGINE, ["mount", "harness", "hose"], ["engine"], [hang])).toMatchObject({
      free: false,
      chain: ["engine", "flange", "pump", "strap", "frame"],
      ties: [{ id: "strap", parts: ["pump"], fixed: ["frame"] }],
    });
  });

  test("from a fixed part the chain is that part", () => {
    expect(ties(ENGINE, [], ["frame"])).toMatchObject({ free: false, chain: ["frame"], ties: [] });
  });

  test("a part that is not there is tied to nothing", () => {
    expect(ties(ENGINE, [], ["gearbox"])).toEqual({ free: true, group: [], chain: [], ties: [] });
  });
});

test("on random problems: the chain holds link by link, no shorter one exists, and releasing the ties frees the group", () => {
  for (let seed = 0; seed < 300; seed++) {
    const [problem, chance] = [randomProblem(seed), makeChance(seed)];
    const released = problem.connections.map((each) => each.id).filter(() => chance.hit(0.4));
    const from = problem.parts
      .filter((part) => !part.fixed)
      .slice(0, 1)
      .map((part) => part.id);
    const freedom = ties(problem, released, from);
    const made = problem.connections.filter((each) => !released.includes(each.id));
    const fixed = problem.parts.filter((part) => part.fixed).map((part) => part.id);

    // Rounds of spreading from the part until a fixed one is touched: as many as the shortest chain has connections.
    let [reached, rounds] = [new Set(from), 0];
    for (;;) {
      if (fixed.some((id) => reached.has(id))) break;
      const next = new Set([
        ...reached,
        ...made.filter((each) => each.joins.some((id) => reached.has(id))).flatMap((each) => each.joins),
      ]);
      if (next.size === reached.size) break;
      [reached, rounds] = [next, rounds + 1];
    }
    expect([seed, freedom.free]).toEqual([seed, !fixed.some((id) => reached.has(id))]);
    expect([seed, freedom.chain.length]).toEqual([seed, freedom.free ? 0 : 2 * rounds + 1]);
    freedom.chain.forEach((id, i) => {
      if (i % 2 === 0) return;
      const link = made.find((each) => each.id === id);
      expect(link?.joins).toEqual(expect.arrayContaining([freedom.chain[i - 1], freedom.chain[i + 1]]));
    });
    const freed = ties(problem, [...released, ...freedom.ties.map((tie) => tie.id)], freedom.group);
    expect([seed, freed.free]).toEqual([seed, true]);
  }
});
