// The job pack as it comes out of the printer: every step, torque and code read again from the PDF, every QR code from its pages; tagging, bytes, and what is refused.
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { printDocument } from "../src/cli/print-documents.ts";
import { readTag, tagsOf, writeCode } from "../src/tag/index.ts";
import { called } from "./command.ts";
import { codesOn, flat, rasterise, textOf, worn } from "./raster.ts";
import { jobOf } from "./run.ts";
import { findProgram } from "./screens.ts";

const folder = mkdtempSync(join(tmpdir(), "unmoor-paper-"));
const at = (name: string): string => join(folder, name);
const ADDRESS = "https://shop.example:8443";
const WHEN = ["--at", "2026-03-02T08:00Z"];
const pictures = process.env.UNMOOR_PICTURES;

// Where they are not, what needs them is skipped and said to be: `.ci/run` installs them.
const reads = findProgram("pdftotext") !== undefined && findProgram("pdftoppm") !== undefined;
const checks = findProgram("qpdf") !== undefined;

const pump = "demo/bench-pump.vehicle.yaml";
const print = async (name: string, ...words: readonly string[]) => {
  const ran = await called("print", ...words, ...WHEN, "-o", at(name));
  expect(ran.stderr.replace(/unmoor: the QR codes hold no web address.*\n/, "")).toBe("");
  expect(ran.status).toBe(0);
  return at(name);
};
const { vehicle, plan } = jobOf("bench-pump", "shaft-seal");
const steps = [...plan.out, ...plan.work, ...plan.back].flatMap((visit) => visit.steps);
const released = [...new Set(steps.flatMap(({ action, id }) => (action === "release" ? [id] : [])))];
const tags = tagsOf(vehicle);
const once = (text: string, part: string): number => text.split(part).length - 1;

beforeAll(async () => {
  await print("pack.pdf", pump, "--job", "shaft-seal", "--address", ADDRESS, "--html", at("pack.html"));
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.skipIf(!reads)("what is read from it again (with pdftotext and pdftoppm of poppler-utils)", () => {
  test("the cards hold every step once, by its number and name, and every torque", async () => {
    const text = flat(textOf(await print("cards.pdf", pump, "--job", "shaft-seal", "--only", "cards"), "-raw"));
    for (const { number, label, action } of steps) {
      if (action === "verify") continue;
      const verb = {
        release: "Release: ",
        loosen: "Loosen, leave in place: ",
        refit: "Refit: ",
        tighten: "Tighten again: ",
      };
      const title = `${number} ${verb[action as keyof typeof verb] ?? ""}${label}`;
      expect(once(text, title), title).toBe(1);
    }
    expect(once(text, "Last look")).toBe(steps.filter(({ action }) => action === "verify").length);
    const torques = steps.filter(({ torque, tightening }) => torque !== undefined || tightening !== undefined);
    expect(torques.length).toBeGreaterThan(2);
    expect(once(text, "Torque: ")).toBe(torques.length);
  });

  test("a person's card alone: his steps and nobody else's, in the order of the schedule", async () => {
    const words = ["--job", "shaft-seal", "--crew", "2", "--seconds", "2", "--person", "person 1"] as const;
    const text = flat(textOf(await print("person.pdf", pump, ...words), "-layout"));
    expect(text).toMatch(/page 1 of 1/);
    expect(text).toContain("Person 1: when and where");
    expect(text).toContain("From Until Step");
    expect(text).not.toContain("Out: ");
    const starts = [...text.matchAll(/\+(\d+):(\d\d) \+\d+:\d\d/g)].map(([, h, m]) => 60 * Number(h) + Number(m));
    expect(starts.length).toBeGreaterThan(3);
    expect(starts).toEqual(starts.toSorted((a, b) => a - b));
  });

  test("the torque sheet holds each torque with its joint and code once", async () => {
    const text = flat(textOf(await print("torque.pdf", pump, "--job", "shaft-seal", "--only", "torque"), "-raw"));
    for (const { id, torque, action } of steps) {
      if (torque === undefined || action !== "refit") continue;
      expect(once(text, `(${writeCode(tags.codeOf(id) ?? "")})`), id).toBe(1);
      expect(text).toContain(`${torque} N·m`);
    }
  });

  test("the tags hold each code on each half once, and once on its bag", async () => {
    const text = flat(textOf(await print("tags.pdf", pump, "--job", "shaft-seal", "--only", "tags"), "-raw"));
    for (const id of released) {
      const code = writeCode(tags.codeOf(id) ?? "");
      for (const half of ["A", "B"]) expect(once(text, `${code} ${half} `), `${id} ${half}`).toBe(1);
    }
  });

  test("a hole card that the paper does not hold comes at full size over sheets, none larger than its page", async () => {
    const words = ["demo/plover-28.vehicle.yaml", "--job", "clutch-plate", "--only", "holes"] as const;
    for (const paper of ["a4", "letter"]) {
      const pages = textOf(await print(`holes-${paper}.pdf`, ...words, "--paper", paper))
        .split("\f")
        .slice(0, -1);
      const [whole = "", ...sheets] = pages.map(flat);
      expect(whole).toContain(`${sheets.length} sheets at full size follow`);
      expect(sheets.length).toBeGreaterThan(3);
      for (const sheet of sheets) {
        expect(sheet).toMatch(/: sheet \d\/\d \(row\/column\)/);
        expect(sheet).toContain("100 mm");
      }
      for (let hole = 1; hole <= 12; hole += 1)
        expect(sheets.some((sheet) => new RegExp(`\\b${hole}\\b`).test(sheet.replace(/sheet \d\/\d/g, "")))).toBe(true);
    }
  }, 60_000);

  test("its fonts are inside, all of them; no word stands outside the paper, A4 and Letter", async () => {
    const fonts = execFileSync("pdffonts", [at("pack.pdf")], { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] });
    const lines = fonts.trim().split("\n").slice(2);
    expect(lines.length).toBeGreaterThan(1);
    for (const line of lines) expect(line).toMatch(/(AtkinsonHyperlegibleNext|NotoSans)\S* .* yes yes yes/);
    const letter = await print("letter.pdf", pump, "--job", "shaft-seal", "--paper", "letter");
    for (const [pdf, wide, high] of [
      [at("pack.pdf"), 595.3, 841.9],
      [letter, 612, 792],
    ] as const) {
      const boxes = textOf(pdf, "-bbox");
      expect(boxes).toContain(`<page width="${wide === 612 ? "612.000000" : "595.27"}`.slice(0, 17));
      for (const [, x1, y1, x2, y2] of boxes.matchAll(
        /<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)"/g,
      )) {
        expect(Math.min(Number(x1), Number(y1))).toBeGreaterThan(20);
        expect(Number(x2)).toBeLessThan(wide - 20);
        expect(Number(y2)).toBeLessThan(high - 20);
      }
    }
  });

  test("it says on every page which vehicle, which file, when, and which page of how many", () => {
    const pages = textOf(at("pack.pdf")).split("\f").slice(0, -1);
    for (const [n, page] of pages.entries()) {
      expect(page).toMatch(/Bench pump\s+·\s+file [0-9a-f]{8}\s+·\s+made 2026-03-02 08:00 UTC/);
      expect(flat(page)).toContain(`page ${n + 1} of ${pages.length}`);
    }
    expect(flat(pages[1] ?? "")).toContain("Tie chart");
  });

  test("every QR code on the tags leads to its connection, at 150 dpi, and after a fold and a smear", async () => {
    const pdf = await print("codes.pdf", pump, "--job", "shaft-seal", "--only", "tags", "--address", ADDRESS);
    mkdirSync(at("codes"));
    const pages = rasterise(pdf, at("codes"), 150);
    // Both columns of codes of an A4 sheet.
    const columns = [16, 105];
    const connectionsOn = (codes: ReadonlySet<string>) =>
      [...codes].map((address) => {
        expect(address.startsWith(`${ADDRESS}/tag/`)).toBe(true);
        const read = readTag(address);
        return "code" in read ? tags.connectionOf(read.code) : undefined;
      });
    const clean = new Set(pages.flatMap((page) => connectionsOn(codesOn(page, 150, columns))));
    expect([...clean].sort()).toEqual([...released].sort());
    const after = new Set(pages.flatMap((page) => connectionsOn(codesOn(worn(page, 67), 150, columns))));
    expect([...after].sort()).toEqual([...released].sort());
  });

  test("letters with accents, Greek and Cyrillic come out as they are in the file", async () => {
    const text = readFileSync(pump, "utf8").replace(
      "label: Renew the shaft seal of the pump",
      'label: "Joint µ Ω é ü ß Ёлка Λάδι ± 0.5° · 3"',
    );
    writeFileSync(at("scripts.vehicle.yaml"), text);
    const pdf = await print("scripts.pdf", at("scripts.vehicle.yaml"), "--job", "shaft-seal");
    expect(flat(textOf(pdf))).toContain("Joint µ Ω é ü ß Ёлка Λάδι ± 0.5° · 3");
  });
});

describe("as a document", () => {
  test.skipIf(!checks)("qpdf finds no fault in it, and it is tagged, with its language and title", () => {
    expect(execFileSync("qpdf", ["--check", at("pack.pdf")], { encoding: "utf8" })).toContain(
      "No syntax or stream encoding errors found",
    );
    const plain = execFileSync("qpdf", ["--qdf", "--object-streams=disable", at("pack.pdf"), "-"], {
      maxBuffer: 1 << 27,
    }).toString("latin1");
    for (const sign of [
      "/Lang (en",
      "/Marked true",
      "/StructTreeRoot",
      "/DisplayDocTitle true",
      "/S /H1",
      "/S /Table",
      "/S /TH",
      "/S /Figure",
    ])
      expect(plain, sign).toContain(sign);
    expect(plain).toContain("pdfuaid:part");
    // Each figure says what whoever cannot see it is told.
    expect(once(plain, "/S /Figure")).toBeLessThanOrEqual(once(plain, "/Alt ("));
  });

  test.skipIf(findProgram("pdfinfo") === undefined)(
    "the tree of its tags, as poppler walks it: headings without a gap, header cells, every step with its number and before its boxes",
    () => {
      const tree = execFileSync("pdfinfo", ["-struct-text", at("pack.pdf")], {
        encoding: "utf8",
        stdio: ["ignore", "pipe", "ignore"],
        maxBuffer: 1 << 26,
      });
      const levels = [...tree.matchAll(/^ *H(\d)\b/gm)].map(([, level]) => Number(level));
      expect(levels[0]).toBe(1);
      for (const [n, level] of levels.entries()) expect(level).toBeLessThanOrEqual((levels[n - 1] ?? 0) + 1);
      const heads = [...tree.matchAll(/^ *THead[\s\S]*?^ *TBody/gm)];
      expect(heads.length).toBeGreaterThan(5);
      for (const [head] of heads) expect(head).toMatch(/^ *TH\b/m);
      const said = flat([...tree.matchAll(/^ *"(.*)"$/gm)].map(([, text]) => text).join(" "));
      for (const { number, label, action } of steps) {
        if (action !== "release" && action !== "refit") continue;
        const title = `${number} ${action === "release" ? "Release" : "Refit"}: ${label}`;
        const from = said.indexOf(title);
        expect(from, title).toBeGreaterThan(-1);
        const boxes = said.indexOf(" done 2nd", from);
        const next = said.slice(from + title.length).search(/ \d+ (?:Release|Refit): /);
        expect(boxes, title).toBeGreaterThan(from);
        if (next !== -1) expect(boxes, title).toBeLessThan(from + title.length + next);
      }
    },
  );

  test("the same input makes the same bytes, another time of making others", async () => {
    const again = await print("again.pdf", pump, "--job", "shaft-seal", "--address", ADDRESS);
    expect(readFileSync(again).equals(readFileSync(at("pack.pdf")))).toBe(true);
    await called(
      "print",
      pump,
      "--job",
      "shaft-seal",
      "--address",
      ADDRESS,
      "--at",
      "2026-03-02T08:01Z",
      "-o",
      at("later.pdf"),
    );
    expect(readFileSync(at("later.pdf")).equals(readFileSync(again))).toBe(false);
  });

  test("the page for screen readers has the same steps and sheets, headings without a gap, and a name for every picture", () => {
    const page = readFileSync(at("pack.html"), "utf8");
    expect(page).toMatch(/<html lang="en">/);
    expect(page).not.toContain('<th scope="col"></th>');
    for (const { number, label, action } of steps)
      if (action !== "verify")
        expect(page).toMatch(new RegExp(`<strong>${number}\\. [^<]*${label.replace(/[()+]/g, ".")}`));
    const levels = [...page.matchAll(/<h(\d)/g)].map(([, level]) => Number(level));
    for (const [n, level] of levels.entries()) expect(level - (levels[n - 1] ?? 0)).toBeLessThanOrEqual(1);
    expect(once(page, "<svg ")).toBe(once(page, 'role="img" aria-label="'));
    for (const id of released) expect(page).toContain(`href="${ADDRESS}/tag/${tags.codeOf(id)}"`);
  });
});

test("--json says what was written, as its published shape has it", async () => {
  const { stdout, status } = await called(
    ...["print", pump, "--job", "shaft-seal", "--only", "tags", "--address", ADDRESS, "-o", at("json.pdf"), "--json"],
  );
  expect(status).toBe(0);
  const said = printDocument.parse(JSON.parse(stdout));
  expect(said.files).toEqual([at("json.pdf")]);
  expect(new Set(said.tags.map(({ code }) => code)).size).toBe(released.length);
});

test("every caution of a plan has its German words", async () => {
  const ids = [...readFileSync("src/plan/cautions.ts", "utf8").matchAll(/^ {4}id: "([\w-]+)"/gm)].map(([, id]) => id);
  expect(ids.length).toBeGreaterThan(20);
  const { wordsOf } = await import("../src/paper/words.ts");
  for (const id of ids) expect(wordsOf("de").cautions[id ?? ""], id).toBeDefined();
  for (const text of Object.values(wordsOf("de").cautions))
    expect(text).not.toMatch(/gefahrlos|garantiert|ist sicher/i);
});

test("every source that a check of a lift names has its German words", async () => {
  const { wordsOf } = await import("../src/paper/words.ts");
  const { sourceIs } = wordsOf("de").lift;
  const sources = [
    "rigging/check",
    "rigging/eye",
    "rigging/gear",
    "rigging/lifting",
    "rigging/file",
    "plan/lift-of-plan",
  ]
    .flatMap((file) => [
      ...readFileSync(`src/${file}.ts`, "utf8").matchAll(
        /(?<!"mend limit", )(?:source|from): ("[^"]+"|`[^`$]*(?:\$\{[^}]*\}[^`$]*)*`)/g,
      ),
    ])
    .map(([, text = ""]) =>
      text
        .slice(1, -1)
        .replace(/\$\{hoistingClass\}/, "HC2")
        .replace(/\$\{[^}]*(?:speed|near|far)[^}]*\}/g, "2"),
    )
    .filter((text) => !/\$\{/.test(text));
  expect(sources.length).toBeGreaterThan(18);
  for (const source of sources) expect(sourceIs(source), source).not.toBe(source);
  expect(sourceIs(`its curve: ${"its figure at 1.2 m"}`)).toBe("seine Kurve: sein Wert bei 1,2 m");
});

describe("what cannot be printed is said before a page is made", () => {
  test.each([
    [
      "a label too small for the code",
      [pump, "--job", "shaft-seal", "--labels", "20x12", "--address", ADDRESS],
      /a label of 20 × 12 mm cannot hold the code of https.*Take one of at least 5\d × \d\d mm/,
    ],
    [
      "no size",
      [pump, "--job", "shaft-seal", "--labels", "wide"],
      /--labels wide is no size of a label\. Write width and height in millimetres, 10 to 300: --labels 62x29/,
    ],
    ["a sheet that there is not", [pump, "--job", "shaft-seal", "--only", "card"], /no sheet is called card\. .*cards/],
    [
      "a run's sheet without a run",
      [pump, "--job", "shaft-seal", "--only", "shift"],
      /--only shift is a sheet of a run/,
    ],
    [
      "a person's card without a crew",
      [pump, "--job", "shaft-seal", "--person", "emil"],
      /--person is one of a crew, and none is given\. Give --crew FILE/,
    ],
    [
      "the card of somebody who is not of the crew",
      [pump, "--job", "shaft-seal", "--crew", "demo/shop.crew.yaml", "--person", "Emul"],
      /nobody of this crew is called Emul\. Nearest: Emil/,
    ],
    ["a paper that there is not", [pump, "--job", "shaft-seal", "--paper", "a5"], /--paper a5 is none that is known/],
    [
      "a font that is none",
      [pump, "--job", "shaft-seal", "--font", pump],
      /--font demo\/bench-pump.vehicle.yaml: it is no TrueType or OpenType font/,
    ],
    ["an address that is none", [pump, "--job", "shaft-seal", "--address", "shop"], /--address shop is no web address/],
    ["no moment", [pump, "--job", "shaft-seal", "--at", "noon"], /--at noon is no moment/],
  ])("%s", async (_, words, message) => {
    const ran = await called("print", ...words, "-o", at("never.pdf"));
    expect(ran.stderr).toMatch(message);
    expect(ran.status).toBe(2);
    expect(() => readFileSync(at("never.pdf"))).toThrow();
  });

  test("a script that no font here has, with the sheet that it stands on", async () => {
    writeFileSync(
      at("han.vehicle.yaml"),
      readFileSync(pump, "utf8").replace("label: Renew the shaft seal of the pump", 'label: "密封 renew"'),
    );
    const ran = await called("print", at("han.vehicle.yaml"), "--job", "shaft-seal", "-o", at("never.pdf"));
    expect(ran.stderr).toMatch(
      /no font here has 密 封, wanted on the sheet ".*"\. Name a font file that has them: --font FILE\.ttf/,
    );
    expect(ran.status).toBe(2);
  });

  test("no file to write", async () => {
    expect((await called("print", pump, "--job", "shaft-seal")).stderr).toMatch(
      /print has no file to write\. Write -o pack\.pdf/,
    );
  });
});

test("labels come one by one in the size of the roll, each with its code", async () => {
  const pdf = await print("roll.pdf", pump, "--job", "shaft-seal", "--labels", "62x29", "--address", ADDRESS);
  if (!reads) return;
  const pages = textOf(pdf).split("\f").slice(0, -1);
  const bags = steps.filter(
    ({ action, hardware, scrap = 0 }) =>
      action === "release" && hardware.reduce((sum, { count }) => sum + count, 0) > scrap,
  );
  expect(pages.length).toBe(2 * released.length + bags.length);
  for (const page of pages) expect(page).toMatch(/[2-9A-Z]{3}-[2-9A-Z]{3}/);
});

test.skipIf(pictures === undefined || !reads)("photographs a page of each for the docs", async () => {
  const plover = "demo/plover-28.vehicle.yaml";
  const words = ["--job", "clutch-plate", "--store", "demo/shop.store.yaml", "--address", ADDRESS] as const;
  const pdf = await print("plover.pdf", plover, ...words);
  const pages = textOf(pdf).split("\f");
  const find = (words: RegExp): number => pages.findIndex((page, n) => n > 0 && words.test(page)) + 1;
  for (const [name, page] of [
    ["chart", 2],
    ["card", find(/^Out: Left side/m)],
    ["rigging", find(/^Rigging sheet/m)],
    ["kit", find(/^The walk, shelf by shelf/m)],
    ["torque", find(/^Actual is what/m)],
    ["holes", find(/^91 Bolts of the bell/m)],
    ["sign-off", find(/^A gate opens/m)],
    ["tags", find(/^Read the six/m)],
  ] as const)
    execFileSync(
      "pdftoppm",
      [
        "-png",
        "-r",
        "75",
        "-f",
        String(page),
        "-l",
        String(page),
        "-singlefile",
        pdf,
        join(pictures ?? "", `paper-${name}`),
      ],
      { stdio: "ignore" },
    );
});
