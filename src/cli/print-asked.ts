// Owns what a call of `print` asks of the paper and the press, read from its flags: every fault of them at once.

import { type Lang, type Paper, type Roll, SHEETS, type SheetKind } from "../paper/index.ts";
import { type Font, readFont } from "../press/index.ts";
import type { Call, CallFault } from "./call.ts";
import { mendWord } from "./words.ts";

export interface PrintAsked {
  readonly out?: string;
  readonly html?: string;
  readonly only?: readonly SheetKind[];
  /** As it was written: an id or a name. */
  readonly person?: string;
  readonly paper: Paper;
  readonly roll?: Roll;
  readonly lang: Lang;
  readonly origin: string;
  readonly fonts: readonly Font[];
  /** Milliseconds since 1970. */
  readonly made: number;
}

/** Millimetres: nobody prints labels smaller or larger, and what is outside is a slip of the keyboard. */
const LABEL = { least: 10, most: 300 };

/** @param now milliseconds since 1970, for a call that gives no time. */
export function readPrint({ flags, operands }: Call, now: number): PrintAsked | readonly CallFault[] {
  const faults: CallFault[] = [];
  const one = (name: string): string | undefined => flags.get(name)?.[0];
  const word = <W extends string>(name: string, known: readonly W[], otherwise: W): W => {
    const given = one(name);
    if (given === undefined) return otherwise;
    const found = known.find((each) => each === given.toLowerCase());
    if (found === undefined)
      faults.push({ what: `--${name} ${given} is none that is known`, mend: mendWord(given, known) });
    return found ?? otherwise;
  };
  const [out, html] = [one("out"), one("html")];
  if (out === undefined && html === undefined)
    faults.push({ what: "print has no file to write", mend: "Write -o pack.pdf, or --html pack.html." });
  const only = (flags.get("only") ?? []).flatMap((given) => {
    const kind = SHEETS.find((each) => each === given);
    if (kind === undefined) faults.push({ what: `--only: no sheet is called ${given}`, mend: mendWord(given, SHEETS) });
    return kind === undefined ? [] : [kind];
  });
  const ofRun = operands[1] === undefined ? only.filter((kind) => kind === "shift" || kind === "record") : [];
  for (const kind of ofRun)
    faults.push({
      what: `--only ${kind} is a sheet of a run, and none is named`,
      mend: "Write the shop's store and the run: unmoor print SHOP RUN.",
    });
  const person = one("person");
  if (person !== undefined && operands[1] === undefined && !flags.has("crew"))
    faults.push({ what: "--person is one of a crew, and none is given", mend: "Give --crew FILE, or --crew 2." });
  if (person !== undefined && (only.length > 0 || one("labels") !== undefined))
    faults.push({ what: "--person is a card by itself", mend: "Leave out --only and --labels." });
  const roll = one("labels") === undefined ? undefined : rollOf(one("labels") ?? "");
  if (roll !== undefined && "what" in roll) faults.push(roll);
  if (roll !== undefined && only.some((kind) => kind !== "tags"))
    faults.push({
      what: "--labels prints tags and bag labels, nothing else",
      mend: "Leave out --only, or print the sheets by a call of their own.",
    });
  const address = one("address") ?? "";
  if (address !== "" && !/^https?:\/\/[^\s/]+/.test(address))
    faults.push({
      what: `--address ${address} is no web address`,
      mend: "Write for example --address https://shop.example.",
    });
  const fonts = (flags.get("font") ?? []).flatMap((path) => {
    const reading = readFont(path);
    if ("font" in reading) return [reading.font];
    faults.push({ what: `--font ${path}: ${reading.what}`, mend: "Name a .ttf or .otf file." });
    return [];
  });
  const at = one("at");
  const made = at === undefined ? now : Date.parse(at);
  if (Number.isNaN(made)) faults.push({ what: `--at ${at} is no moment`, mend: "Write 2026-03-02T08:00Z." });
  const [paper, lang] = [word("paper", ["a4", "letter"], "a4"), word("lang", ["en", "de"], "en")];
  if (faults.length > 0) return faults;
  return {
    ...(out === undefined ? {} : { out }),
    ...(html === undefined ? {} : { html }),
    ...(flags.has("only") ? { only } : {}),
    ...(person === undefined ? {} : { person }),
    paper,
    ...(roll === undefined || "what" in roll ? {} : { roll }),
    lang,
    origin: address.replace(/\/+$/, ""),
    fonts,
    made,
  };
}

function rollOf(text: string): Roll | CallFault {
  const [, wide, high] = /^\s*(\d+(?:\.\d+)?)\s*(?:mm)?\s*[x×]\s*(\d+(?:\.\d+)?)\s*(?:mm)?\s*$/i.exec(text) ?? [];
  const roll = { wide: Number(wide), high: Number(high) };
  const fits = (value: number): boolean => value >= LABEL.least && value <= LABEL.most;
  return fits(roll.wide) && fits(roll.high)
    ? roll
    : {
        what: `--labels ${text} is no size of a label`,
        mend: `Write width and height in millimetres, ${LABEL.least} to ${LABEL.most}: --labels 62x29.`,
      };
}

/** The person of a crew who is called so, by id or name; or that nobody is. */
export function personCalled(
  name: string,
  people: readonly { readonly id: string; readonly label: string }[],
): { readonly id: string } | CallFault {
  const wanted = name.toLowerCase();
  return (
    people.find(({ id, label }) => id.toLowerCase() === wanted || label.toLowerCase() === wanted) ?? {
      what: `--person: nobody of this crew is called ${name}`,
      mend: mendWord(
        name,
        people.map(({ label }) => label),
      ),
    }
  );
}
