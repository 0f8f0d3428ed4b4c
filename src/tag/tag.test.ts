// The codes of tags: what the check character catches, tried on every code there can be; that a vehicle's codes differ; what is read from a tag.
import { expect, test } from "vitest";
import { ALPHABET, CODES, codeOf, isCode, LENGTH, readTag, tagPath, tagsOf, writeCode } from "./index.ts";

test("of every code there is: each wrong character and each swap of neighbours shows", () => {
  // In numbers, for there are 2.5 million codes and 113 slips of each; `isCode` is held against this sum on a sample below.
  const weights = [32, 16, 8, 4, 2, 1];
  let [codes, missed] = [0, 0];
  const values = new Int32Array(LENGTH);
  for (let number = 0; number < CODES; number += 1) {
    let left = number;
    for (let n = LENGTH - 2; n >= 0; n -= 1, left = Math.floor(left / 19)) values[n] = left % 19;
    let total = 0;
    for (let n = 0; n < LENGTH - 1; n += 1) total += (weights[n] ?? 0) * (values[n] ?? 0);
    const check = (19 - (total % 19)) % 19;
    values[LENGTH - 1] = check;
    total += check;
    if (total % 19 !== 0) missed += 1;
    codes += 1;
    for (let n = 0; n < LENGTH; n += 1) {
      const [own = 0, weight = 0] = [values[n], weights[n]];
      for (let other = 0; other < 19; other += 1)
        if (other !== own && (total + weight * (other - own)) % 19 === 0) missed += 1;
      if (n === LENGTH - 1) continue;
      const [next = 0, nextWeight = 0] = [values[n + 1], weights[n + 1]];
      if (next !== own && (total + (weight - nextWeight) * (next - own)) % 19 === 0) missed += 1;
    }
  }
  expect([codes, missed]).toEqual([19 ** 5, 0]);
});

test("the code itself, on every 997th: each slip is refused by what reads it", () => {
  for (let number = 0; number < CODES; number += 997) {
    const code = codeOf(number);
    expect(isCode(code)).toBe(true);
    for (let n = 0; n < LENGTH; n += 1) {
      for (const other of ALPHABET)
        if (other !== code[n] && isCode(code.slice(0, n) + other + code.slice(n + 1))) expect.fail(`${code}: ${other}`);
      const swapped = code.slice(0, n) + (code[n + 1] ?? "") + code[n] + code.slice(n + 2);
      if (code[n + 1] !== undefined && code[n] !== code[n + 1] && isCode(swapped)) expect.fail(`${code}: ${swapped}`);
    }
  }
});

test("no two characters of the alphabet are of those that are taken for each other", () => {
  for (const alike of ["0OQD", "1IL", "2Z", "5S", "6G", "8B", "UV", "BCDEGPTVZ", "MN"])
    expect([...ALPHABET].filter((one) => alike.includes(one)).length, alike).toBeLessThanOrEqual(1);
  expect(new Set(ALPHABET).size).toBe(19);
});

test("every connection of a vehicle has a code of its own, which leads back to it, whatever else the file says", () => {
  const ends = ["radiator", "pump", "tank"];
  const connections = ends.flatMap((end) =>
    ["hose", "wire", "bolts"].map((what) => ({ id: `${end}-${what}`, joins: ["vehicle", end] })),
  );
  const vehicle = { name: "Plover 28", connections };
  const tags = tagsOf(vehicle);
  for (const { id } of vehicle.connections) expect(tags.connectionOf(tags.codeOf(id) ?? "")).toBe(id);
  const shuffled = tagsOf({ ...vehicle, connections: vehicle.connections.toReversed() });
  for (const { id } of vehicle.connections) expect(shuffled.codeOf(id)).toBe(tags.codeOf(id));
  const other = tagsOf({ ...vehicle, name: "another" });
  expect(vehicle.connections.filter(({ id }) => other.codeOf(id) === tags.codeOf(id))).toEqual([]);
  expect(tags.codeOf("nothing of it")).toBeUndefined();
});

test("20,000 connections still have a code each", () => {
  const connections = Array.from({ length: 20_000 }, (_, n) => ({ id: `c${n}`, joins: ["a", "b"] }));
  const tags = tagsOf({ name: "large", connections });
  expect(new Set(connections.map(({ id }) => tags.codeOf(id))).size).toBe(20_000);
});

test("what is read from a tag: typed, spoken, scanned, and why not", () => {
  const code = codeOf(123_456);
  const said = writeCode(code);
  expect(said).toMatch(/^[2-9A-Z]{3}-[2-9A-Z]{3}$/);
  for (const text of [code, said, said.toLowerCase(), ` ${code.split("").join(" ")} `])
    expect(readTag(text)).toEqual({ code });
  expect(readTag(`${said} a`)).toEqual({ code, half: "A" });
  const run = { code, half: "B", run: "order 7/2" };
  expect(tagPath(run)).toBe(`/runs/order%207%2F2/tag/${code}B`);
  expect(readTag(`https://shop.example${tagPath(run)}`)).toEqual(run);
  expect(readTag(`https://shop.example${tagPath({ code, half: "A" })}`)).toEqual({ code, half: "A" });
  expect(readTag("  ")).toEqual({ fault: "empty" });
  expect(readTag(code.slice(1))).toEqual({ fault: "length" });
  expect(readTag(`O${code.slice(1)}`)).toEqual({ fault: "character", character: "O" });
  const wrong = [...ALPHABET].find((one) => one !== code[0]) ?? "";
  expect(readTag(wrong + code.slice(1))).toEqual({ fault: "check" });
});
