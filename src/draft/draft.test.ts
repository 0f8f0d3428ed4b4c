// Drafts are sound vehicle files, answers go where the questions stand, captions are read as the grammar has them, and no text brings it down.
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readVehicle } from "../vehicle/index.ts";
import { answerQuestion, askedOf, draftVehicle, lettersOf, questionsIn, readCaptions } from "./index.ts";

const folder = new URL("../../demo/narrations/", import.meta.url);
const files = readdirSync(folder).filter((name) => !name.endsWith(".json"));
const textOf = (name: string) => readFileSync(new URL(name, folder), "utf8");
const read = (yaml: string) => readVehicle("d.vehicle.yaml", () => yaml);

test.each(files)(
  "the draft of %s is a sound vehicle file, and asks for its masses before anything was searched",
  (file) => {
    const draft = draftVehicle([{ file, text: textOf(file) }]);
    if (!("yaml" in draft)) throw new Error(JSON.stringify(draft));
    const reading = read(draft.yaml);
    expect(reading.faults).toEqual([]);
    if (reading.vehicle === undefined) throw new Error("no vehicle");
    expect(questionsIn(draft.yaml, reading.vehicle, reading.gaps, "d.vehicle.yaml")[0]?.key).toBe("mass");
  },
);

test("an answer takes the place of its question, and of nothing else", () => {
  const draft = draftVehicle([{ file: "a", text: "Undo the three exhaust bolts." }]);
  if (!("yaml" in draft)) throw new Error("no draft");
  const { vehicle, gaps } = read(draft.yaml);
  const [question] = vehicle === undefined ? [] : askedOf(draft.yaml, vehicle, gaps, "d.vehicle.yaml", {});
  if (question === undefined) throw new Error("no question");
  const answered = answerQuestion(draft.yaml, question, "210 kg ± 5 %", gaps);
  expect(answered).toMatchObject({ text: draft.yaml.replace('mass: "?"', "mass: 210 kg ± 5 %") });
});

test("what cannot be drafted from is refused with its mend", () => {
  const refused = (text: string) => {
    const draft = draftVehicle([{ file: "f", text }]);
    return "yaml" in draft ? undefined : draft[0]?.what;
  };
  expect(refused("")).toBe("f holds no words");
  expect(refused("\u0000\u0001\u0002\u0003".repeat(100))).toBe("f is no text");
  expect(refused("colour,weight\nred,3\nblue,4\n")).toBe(
    "f has no column that names the connections; it has colour, weight",
  );
  expect(refused("WEBVTT\n\n00:01.000 --> 00:02.000\n\n")).toBe("f has captions without words");
});

test("the columns of a table in which none names the connections are given as they are called, commas and all", () => {
  const text = 'Nr;"Was, genau";Wo\n1;Schlauch;links\n2;Kabel;rechts\n';
  expect(draftVehicle([{ file: "t.csv", text }])).toMatchObject([{ columns: ["Nr", "Was, genau", "Wo"] }]);
  const named = draftVehicle([{ file: "t.csv", text }], {
    columns: new Map([
      ["was, genau", "label"],
      ["wo", "position"],
    ]),
  });
  expect("told" in named && named.told.ties.map(({ label, at }) => [label, at])).toEqual([
    ["Schlauch", "links"],
    ["Kabel", "rechts"],
  ]);
});

test("a table is drafted, its columns by their names or as they are said to be", () => {
  const draft = draftVehicle(
    [{ file: "t.csv", text: 'Was,Where,Qty\n"Hose, upper",Left side,1\nBell bolts,Underneath,8\n' }],
    {
      columns: new Map([["was", "label"]]),
    },
  );
  if (!("yaml" in draft)) throw new Error(JSON.stringify(draft));
  expect(draft.told.ties.map(({ label, kind, count, at }) => [label, kind, count, at])).toEqual([
    ["Hose, upper", "hose", 1, "left-side"],
    ["Bell bolts", "bolted joint", 8, "underneath"],
  ]);
  expect(read(draft.yaml).faults).toEqual([]);
});

// The cases follow the cue and timestamp grammar of the W3C's "WebVTT: The Web Video Text Tracks Format", § 4 and § 6.
test.each([
  [
    "a byte order mark, a header text and CR LF",
    "\uFEFFWEBVTT some header\r\n\r\n00:01.000 --> 00:02.000\r\nhi\r\n",
    [[1, 2, "hi"]],
  ],
  [
    "hours of more than two digits, settings after the time",
    "WEBVTT\n\n100:00:00.000 --> 100:00:01.500 align:start line:0\nlate",
    [[360000, 360001.5, "late"]],
  ],
  [
    "notes, styles and regions",
    "WEBVTT\n\nNOTE\nnot said\n\nSTYLE\n::cue { color: red }\n\nREGION\nid:a\n\n00:00.000 --> 00:01.000\nsaid",
    [[0, 1, "said"]],
  ],
  [
    "names of cues, tags, voices, times inside and entities",
    "WEBVTT\n\nan id\n00:00.000 --> 00:01.000\n<v.loud Ana>nut <00:00:00.500><i>&amp;</i> bolt &lt;8&gt;&nbsp;mm",
    [[0, 1, "nut & bolt <8> mm"]],
  ],
  ["CR alone ends a line", "WEBVTT\r\r00:00.000 --> 00:01.000\rone\rtwo\r", [[0, 1, "one two"]]],
  [
    "times that follow at once without a blank line",
    "WEBVTT\n\n00:00.000 --> 00:01.000\none\n00:01.000 --> 00:02.000\ntwo",
    [
      [0, 1, "one"],
      [1, 2, "two"],
    ],
  ],
  [
    "minutes above 59 are no time; the words stay",
    "WEBVTT\n\n00:61.000 --> 00:62.000\nkept",
    [[undefined, undefined, "kept"]],
  ],
  [
    "SubRip: commas, numbers, styles in braces",
    "1\n00:00:00,000 --> 00:00:01,000\n{\\an8}<b>top</b>\n\n2\n00:00:01,000 --> 00:00:02,000\nnext",
    [
      [0, 1, "top"],
      [1, 2, "next"],
    ],
  ],
  ["SubRip with a broken arrow", "1\n00:00:00,000 -> 00:00:01,000\nkept", [[undefined, undefined, "kept"]]],
] as const)("captions: %s", (_, text, cues) => {
  expect(readCaptions(text).cues.map(({ start, end, text: said }) => [start, end, said])).toEqual(
    cues.map((cue) => [...cue]),
  );
});

test("captions are read in the order in which they begin, and how many stand late or overlap is said", () => {
  const text =
    "WEBVTT\n\n00:04.000 --> 00:06.000\nthe hose\n\n00:01.000 --> 00:04.500\nundo\n\nodd -->\nand the clip\n";
  const { cues, late, overlapping } = readCaptions(text);
  expect(cues.map(({ text: said }) => said)).toEqual(["undo", "and the clip", "the hose"]);
  expect([late, overlapping]).toEqual([2, 1]);
});

test("bytes are UTF-8, UTF-16 with its mark, or Windows-1252 that is said; what is none of them is refused by its line", () => {
  const read = (...bytes: number[]) =>
    lettersOf(Uint8Array.from(bytes), "f", (some, encoding) => new TextDecoder(encoding).decode(some));
  expect(read(0xc3, 0xb6, 0x6c)).toEqual({ text: "öl" });
  expect(read(0xff, 0xfe, 0xf6, 0, 0x6c, 0)).toEqual({ text: "öl" });
  expect(read(0x61, 0x0a, 0xf6, 0x6c)).toEqual({ text: "a\nöl", odd: { line: 2, as: "windows-1252" } });
  expect(read(0xc3, 0xb6, 0xc3, 0xb6, 0xc3, 0xb6, 0xc3)).toMatchObject({ odd: { line: 1, as: "damaged" } });
  expect(read(0x61, 0x0a, 0x81)).toMatchObject({ what: "f, line 2 is neither UTF-8 nor Windows-1252" });
});

test("two hundred mangled narrations bring nothing down, and every draft of them is sound", () => {
  let seed = 12;
  const random = (below: number) => {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    return seed % below;
  };
  const texts = files.map(textOf);
  for (let n = 0; n < 200; n += 1) {
    const a = texts[random(texts.length)] ?? "";
    const b = texts[random(texts.length)] ?? "";
    const at = random(a.length);
    const text = `${a.slice(at, at + random(300))}${["\n", "-->", "\u0000", " and ", "00:", ",", "<", "&#x110000;"][random(8)]}${b.slice(random(b.length), random(b.length))}`;
    const draft = draftVehicle([{ file: "m", text }]);
    if ("yaml" in draft) expect(read(draft.yaml).faults, text).toEqual([]);
  }
});

test("a table's times, hardware and torques are taken, with the unit of the column's name; what is no figure is said by its line", () => {
  const table = (time: string) =>
    draftVehicle([
      { file: "t.csv", text: `Item;Fastener;Qty;Minutes;Torque (N·m)\nBell bolts;bolt M10;8;${time};48\n` },
    ]);
  const draft = table("12,5");
  if (!("yaml" in draft)) throw new Error(JSON.stringify(draft));
  expect(draft.yaml).toContain("time: 12.5 min");
  expect(draft.yaml).toContain("hardware: { item: bolt M10, count: 8 }");
  expect(draft.yaml).toContain("refit: { torque: 48 N·m }");
  expect(read(draft.yaml).faults).toEqual([]);
  expect(table("soon")).toMatchObject([{ what: expect.stringContaining("t.csv, line 2: time soon") }]);
});

test("the numbers of a list that is read out count nothing, and where somebody looks is not where somebody goes", () => {
  const text = `Top of the engine. Item twenty-one, phase cables, three off. Item twenty-two, heater hose, one clip. Item three, the cover, twenty-four screws.
Now go to the left side. Undo the starter cable. Now look at the back of the hub. That is the sensor plug, so unplug it. Then the earth strap.`;
  const draft = draftVehicle([{ file: "list.txt", text }]);
  expect("told" in draft && draft.told.ties.map(({ label, count, at }) => [label, count, at])).toEqual([
    ["Phase cables", 3, "top"],
    ["Heater hose", 1, "top"],
    ["Cover", 24, "top"],
    ["Starter cable", 1, "left"],
    ["Sensor plug", 1, "left"],
    ["Earth strap", 1, "left"],
  ]);
});

test.each([
  ["Exhaust flange, four nuts, not three.", 4],
  ["Belt guard, three, no, four bolts.", 4],
  ["Belt guard, two bolts, no, three, sorry. Lift it off.", 3],
])("a number that is taken back counts nothing: %s", (text, count) => {
  const draft = draftVehicle([{ file: "talk.txt", text }]);
  expect("told" in draft ? draft.told.ties.map((tie) => tie.count) : draft).toEqual([count]);
});

test("lines of notes end what they say, and what stands alone in one is a place", () => {
  const text =
    "aft end\nbelt guard four bolts\nspeed sensor plug\nport side\nfuel feed one union\nearth strap one bolt\n";
  const draft = draftVehicle([{ file: "notes.txt", text }]);
  expect("told" in draft ? draft.told.ties.map(({ label, at, count }) => [label, at, count]) : draft).toEqual([
    ["Belt guard", "aft-end", 4],
    ["Speed sensor plug", "aft-end", 1],
    ["Fuel feed", "left", 1],
    ["Earth strap", "left", 1],
  ]);
});

test.each([
  [
    "Left side. Air pipe, one clamp. Walk round the bucket to the right side. Earth strap, one bolt.",
    "Earth strap",
    "right",
    1,
  ],
  ["Left side. Air pipe, one clamp. And underneath. Belly plate, twelve bolts.", "Belly plate", "under", 12],
  ["Left side, it's the fuel filter side. Fuel feed, one union.", "Fuel feed", "left", 1],
  ["Nearside. What's in front of you? Suction flange, eight bolts.", "Suction flange", "near-side", 8],
  ["Underneath. Rear mounts, four bolts. And the bell housing, ten bolts.", "Bell housing bolts", "under", 10],
  ["Underneath. Rear mounts, four bolts. And the bell housing, ten bolts.", "Rear mounts", "under", 4],
])("where it is, and how many: %s %s", (text, label, at, count) => {
  const draft = draftVehicle([{ file: "talk.txt", text }]);
  const ties = "told" in draft ? draft.told.ties : [];
  expect(ties.find((tie) => tie.label === label)).toMatchObject({ at, count });
});

test("what stays, and what is not lifted out, is neither undone nor the end of it", () => {
  const text =
    "Remove the lower bolt of the shock absorber. The upper bolt stays. Radiator, two bolts, it tips back. We don't lift it out. Earth strap, one bolt.";
  const draft = draftVehicle([{ file: "talk.txt", text }]);
  if (!("told" in draft)) throw new Error("no draft");
  expect(draft.told.ties.map(({ label }) => label)).toEqual([
    "Shock absorber lower bolt",
    "Radiator bolts",
    "Earth strap",
  ]);
  expect(draft.told.closings).toEqual([]);
});
