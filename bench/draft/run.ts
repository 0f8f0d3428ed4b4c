// Owns the bench of drafts: the aims on the narrations, ten thousand captions, a hundred thousand mangled texts.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { draftVehicle } from "../../src/draft/index.ts";
import { readVehicle } from "../../src/vehicle/index.ts";
import { aims, NARRATIONS, narrations, scoreNarration } from "./score.ts";

/** Scores the annotated narrations of a folder. */
export function scoreFolder(folder = NARRATIONS): void {
  const scores = narrations(folder).map((name) => scoreNarration(name, folder));
  for (const { name, found, gold, drafted, wrong } of scores)
    console.log(`${name}: ${found} of ${gold} found, ${drafted} drafted${wrong.map((text) => `\n  ${text}`).join("")}`);
  console.log(aims(scores));
}

export function measureDraft(mangled: number): void {
  scoreFolder();
  const texts = readdirSync(NARRATIONS)
    .filter((name) => !name.endsWith(".json"))
    .map((name) => readFileSync(join(NARRATIONS, name), "utf8"));
  const captions = Array.from({ length: 10_000 }, (_, i) => {
    const words = (texts[i % texts.length] ?? "").split(/\s+/);
    const at = (i * 7) % Math.max(1, words.length - 8);
    const time = (n: number) => new Date(n * 1000).toISOString().slice(11, 23);
    return `${time(i * 3)} --> ${time(i * 3 + 2)}\n${words
      .slice(at, at + 8)
      .join(" ")
      .replace(/-->/g, "")}\n`;
  });
  const start = performance.now();
  const draft = draftVehicle([{ file: "long.vtt", text: `WEBVTT\n\n${captions.join("\n")}` }]);
  console.log(
    `10,000 captions: ${Math.round(performance.now() - start)} ms, ${"told" in draft ? draft.told.ties.length : 0} connections`,
  );

  let seed = 7;
  const random = (below: number) => {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    return seed % below;
  };
  const bits = [
    "\n",
    "-->",
    "\u0000",
    " and ",
    "00:",
    ",",
    "<",
    "&#x110000;",
    '"',
    "\t",
    "no wait",
    " each side ",
    "\uFEFF",
    "WEBVTT",
  ];
  let drafted = 0;
  let unsound = 0;
  let slowest = 0;
  for (let n = 0; n < mangled; n += 1) {
    const a = texts[random(texts.length)] ?? "";
    const b = texts[random(texts.length)] ?? "";
    const at = random(a.length);
    const from = random(b.length);
    const text = `${a.slice(at, at + random(300))}${bits[random(bits.length)]}${b.slice(from, from + random(200))}${bits[random(bits.length)]}`;
    const before = performance.now();
    const made = draftVehicle([{ file: "m", text }]);
    slowest = Math.max(slowest, performance.now() - before);
    if (!("yaml" in made)) continue;
    drafted += 1;
    if (readVehicle("m", () => made.yaml).faults.length > 0) {
      unsound += 1;
      if (unsound < 4)
        console.log(
          text,
          readVehicle("m", () => made.yaml).faults.map(({ what }) => what),
        );
    }
  }
  console.log(
    `${mangled} mangled texts: no crash, ${drafted} drafted, ${unsound} of them unsound, slowest ${slowest.toFixed(0)} ms, ${Math.round(process.memoryUsage().rss / 1e6)} MB`,
  );
}
