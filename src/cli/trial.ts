// Owns the command `trial`: from the readings of a trial lift, whether the load is free, and if not, where to look first.

import {
  besidesLoad,
  CELL_ERROR,
  groupsOf,
  type LiftHung,
  reckonLiftOf,
  type TrialQuestion,
  trialOf,
} from "../plan/index.ts";
import { readQuantity } from "../quantity/index.ts";
import {
  faultInEnglish,
  inEnglish,
  type Reading,
  type StopLoad,
  type TrialAnswer,
  weighTrial,
} from "../rigging/index.ts";
import { computeAside } from "./background.ts";
import type { Call, CallFault } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { inVehicleFile } from "./lift-places.ts";
import { refuse, takeAsked, tellRelease } from "./release.ts";
import type { TrialDocument } from "./rigging-documents.ts";
import { type Terminal, wrap } from "./terminal.ts";
import type { Answer, Asked } from "./thread.ts";
import { mendWord } from "./words.ts";

/** Standard errors where the call does not say: an inclinometer's, degrees; a ruler's, metres. Common practice. */
const TILT_ERROR = 0.1;
const RISE_ERROR = 0.002;
/** Metres of rise where the call does not say: a trial lift of a few centimetres. */
const RISE = 0.03;
/** Metres and degrees beyond which a reading is of no trial lift but a slip of the unit. */
const MOST_RISE = 0.5;
const MOST_TILT = 45;
/** Ties that fit on a screen; the document has them all. */
const SHOWN = 8;

export async function runTrial(call: Call, terminal: Terminal): Promise<Exit> {
  const path = call.operands[0] ?? "";
  const faults: CallFault[] = [];
  const read = readingsOf(call, faults);
  if (faults.length > 0) return refuse(faults, terminal);
  const asked = await takeAsked("plan", path, call, terminal);
  if (typeof asked === "number") return asked;
  const answer = await computeAside<Asked, Answer>(asked, terminal);
  const { plan } = answer;
  if (plan === undefined) return tellRelease(call, asked.question, answer, terminal);
  const { vehicle } = asked.question;
  const groups = groupsOf(vehicle, plan);
  const named = call.flags.get("lift")?.[0];
  const group = named === undefined ? groups[0] : groups.find(({ task }) => task === named);
  if (group === undefined) {
    const known = groups.map(({ task }) => task);
    return refuse(
      [
        {
          what: named === undefined ? "this plan lifts nothing" : `this plan has no lift ${named}`,
          mend: named === undefined ? "Ask for a job that needs a lift." : mendWord(named, known),
        },
      ],
      terminal,
    );
  }
  const [hoist, legs] = [call.flags.get("hoist")?.[0], call.flags.get("legs")];
  const lift = reckonLiftOf(vehicle, group, {
    ...(hoist === undefined ? {} : { hoist }),
    ...(legs === undefined ? {} : { legs }),
  });
  if (lift.kind === "stands")
    return refuse(
      [
        {
          what: `${group.task} lowers what stands on pads, and hangs nothing`,
          mend: "A trial lift is of a load that hangs.",
        },
      ],
      terminal,
    );
  if (lift.kind === "refused") {
    for (const { at, what, mend } of await inVehicleFile(path, lift.faults.map(faultInEnglish)))
      terminal.warn(`${at}: ${what}. ${mend}`);
    return EXIT.not;
  }
  const tackle = besidesLoad(lift.slung.rig, lift.slung.rules);
  const light = read.find(({ load }) => load.value <= tackle);
  if (light !== undefined)
    return refuse(
      [
        {
          what: `--reading: ${inEnglish({ is: "no load on the cell", read: light.load.value, tackle })}`,
          mend: inEnglish({ is: "mend reading" }),
        },
      ],
      terminal,
    );
  const readings = read.map((one) => ({ ...one, load: { ...one.load, value: one.load.value - tackle } }));
  const question = trialOf(vehicle, plan, lift, readings);
  const weighed = weighTrial(question.trial);
  if (weighed.kind === "cannot") {
    const over = read.find(({ load }) => load.value > lift.answer.stop.newtons);
    if (over !== undefined) terminal.warn(stopNow(over.load.value, lift.answer.stop.newtons));
    terminal.warn(`unmoor: this trial lift cannot be weighed: ${inEnglish(weighed.why)}. See unmoor lift.`);
    return EXIT.not;
  }
  const document = describe(path, plan.labels[group.task] ?? group.task, lift, question, weighed, lift.answer.stop);
  const places = placesOf(plan.out.flatMap(({ label, steps }) => steps.map(({ id }) => [id, label] as const)));
  const placed = { ...document, ties: document.ties.map((tie) => ({ ...tie, ...places(tie.id) })) };
  terminal.say(call.flags.has("json") ? JSON.stringify(placed, undefined, 2) : sayTrial(placed, tackle, terminal));
  return document.free >= 0.5 ? EXIT.found : EXIT.not;
}

const placesOf = (pairs: readonly (readonly [string, string])[]) => {
  const byId = new Map(pairs);
  return (id: string): { position?: string } => {
    const position = byId.get(id);
    return position === undefined ? {} : { position };
  };
};

/** Readings in the order given: the nth pitch, roll and rise belong to the nth load. */
function readingsOf(call: Call, faults: CallFault[]): readonly Reading[] {
  const list = (name: string): readonly string[] => call.flags.get(name) ?? [];
  const loads = list("reading");
  if (loads.length === 0)
    faults.push({ what: "trial needs what the load cell reads", mend: "Write --reading 3.1kN, tackle and all." });
  for (const name of ["pitch", "roll", "rise"])
    if (list(name).length > loads.length)
      faults.push({
        what: `--${name} is given ${list(name).length} times, for ${loads.length} reading${loads.length === 1 ? "" : "s"}`,
        mend: "Give one for each --reading, in their order.",
      });
  const one = (
    name: string,
    text: string,
    dimension: "force" | "angle" | "length",
    error: (value: number) => number,
  ) => {
    const reading = readQuantity(text.replace("−", "-"), dimension);
    if ("fault" in reading) {
      faults.push({ what: `--${name}: ${reading.fault.what}`, mend: reading.fault.mend });
      return undefined;
    }
    const scale = dimension === "angle" ? 180 / Math.PI : 1;
    const { nominal, low, high } = reading.value;
    const value = nominal * scale;
    // What is written as ± is taken for two standard errors.
    return { value, error: high > low ? ((high - low) / 4) * scale : error(value) };
  };
  return loads.flatMap((text, i): Reading[] => {
    const load = one("reading", text, "force", (value) => CELL_ERROR * value);
    const [pitch, roll] = (["pitch", "roll"] as const).map((name) => {
      const given = list(name)[i];
      return given === undefined ? undefined : one(name, given, "angle", () => TILT_ERROR);
    });
    const risen = list("rise")[i];
    const rise = risen === undefined ? undefined : one("rise", risen, "length", () => RISE_ERROR);
    if (load === undefined) return [];
    if (!(load.value > 0)) faults.push({ what: `--reading ${text} is not above nothing`, mend: "Write 3.1kN." });
    if (rise !== undefined && !(rise.value > 0))
      faults.push({ what: `--rise ${list("rise")[i]} is not above nothing`, mend: "Write --rise 30mm." });
    if (rise !== undefined && rise.value > MOST_RISE)
      faults.push({
        what: `--rise ${list("rise")[i]} is more than a trial lift: ${1000 * MOST_RISE} mm at the most`,
        mend: "Write what it has risen while something might still hold it, as --rise 30mm.",
      });
    for (const [name, tilt] of Object.entries({ pitch, roll }))
      if (tilt !== undefined && Math.abs(tilt.value) >= MOST_TILT)
        faults.push({
          what: `--${name} ${list(name)[i]} is no tilt of a trial lift: less than ${MOST_TILT}° is`,
          mend: `Write --${name} 0.5deg.`,
        });
    return [
      {
        load,
        ...(pitch === undefined ? {} : { pitch }),
        ...(roll === undefined ? {} : { roll }),
        rise: rise ?? { value: RISE, error: RISE_ERROR },
      },
    ];
  });
}

function describe(
  file: string,
  label: string,
  { group }: LiftHung,
  { trial, ties, suspects, noPlace, assumed }: TrialQuestion,
  answer: TrialAnswer,
  stop: StopLoad,
): TrialDocument {
  const { misfit } = answer;
  return {
    format: "unmoor/trial/1",
    file,
    task: group.task,
    label,
    readings: trial.readings.map(({ load, pitch, roll, rise }, i) => {
      const expected = answer.expected[i]!;
      return {
        load: load.value,
        error: load.error,
        ...(pitch === undefined ? {} : { pitch: pitch.value }),
        ...(roll === undefined ? {} : { roll: roll.value }),
        rise: rise?.value ?? RISE,
        expected,
      };
    }),
    free: answer.free,
    ties: answer.ties.map(({ id, probability, pull }) => ({
      id,
      label: ties.get(id)?.label ?? id,
      probability,
      pull,
      at: [...(trial.ties.find((tie) => tie.id === id)?.at ?? [0, 0, 0])] as [number, number, number],
      hidden: ties.get(id)?.hidden ?? false,
    })),
    explanations: answer.explanations,
    unknownMass: answer.unknownMass,
    suspects: answer.suspects.map(({ id, probability }) => ({ id, what: inEnglish(suspects.get(id)!), probability })),
    standing: answer.standing,
    cannotTell: answer.cannotTell,
    noPlace,
    // Squared standard errors: beyond two for each figure read and six more, hardly one reading in a hundred is so far off.
    misfit: { ...misfit, strange: misfit.value > 2 * misfit.readings + 6 },
    stop: { load: stop.newtons, because: stop.because, ...(stop.because === "a limit" ? { at: stop.at } : {}) },
    assumed: assumed.map((one) => inEnglish(one)),
  };
}

const percent = (chance: number): string => {
  const value = 100 * chance;
  return value > 99.9
    ? "over 99.9 %"
    : value < 0.1
      ? "below 0.1 %"
      : `${value.toFixed(value < 10 || value > 99 ? 1 : 0)} %`;
};
const kilonewtons = (newtons: number): string => `${(newtons / 1000).toFixed(2)} kN`;

const stopNow = (read: number, most: number): string =>
  `STOP: ${kilonewtons(read)} on the cell is above ${kilonewtons(most)}.`;

const degrees = (value: number): string => `${Math.abs(value) < 0.005 ? "0.00" : value.toFixed(2)}°`;
const sayMiddle = (
  { value, within }: { value: number; within?: number | undefined },
  say: (x: number) => string,
): string => (within === undefined ? say(value) : `${say(value)} ± ${say(within)}`);

const sayEarly = (early: TrialDocument["readings"][number]["expected"]["early"]): string =>
  early === undefined
    ? ""
    : ` It would still press ${kilonewtons(early.onFeet)} on what it stands on: this reading is not weighed${early.isMore ? `, and is more than the ${kilonewtons(early.most)} that it may show. LOOK: something may hold it, or the rise was not counted from where the legs came taut` : ""}.`;

function sayTrial(one: TrialDocument, tackle: number, { ink, width }: Terminal): string {
  const least = one.ties.filter(({ probability }) => probability >= 0.001).slice(0, SHOWN);
  const pairs = one.explanations.filter(({ ids, probability }) => ids.length > 1 && probability >= 0.005).slice(0, 3);
  const suspects = one.suspects.filter(({ probability }) => probability >= 0.001);
  const head = `Nothing holds it: ${percent(one.free)}`;
  const over = one.readings.find(({ load }) => load + tackle > one.stop.load);
  return [
    ink.strong(one.label),
    ...one.readings.flatMap(({ load, pitch, roll, rise, expected }) =>
      wrap(
        `Read at ${(1000 * rise).toFixed(0)} mm: ${kilonewtons(load)}${pitch === undefined ? "" : `, pitch ${pitch.toFixed(2)}°`}${roll === undefined ? "" : `, roll ${roll.toFixed(2)}°`}. Freed it would be ${sayMiddle(expected.load, kilonewtons)}, pitch ${sayMiddle(expected.pitch, degrees)}, roll ${sayMiddle(expected.roll, degrees)}.${sayEarly(expected.early)}`,
        width,
        "  ",
      ),
    ),
    "",
    one.free >= 0.95 ? ink.good(head) : one.free >= 0.5 ? ink.doubt(head) : ink.bad(head),
    ...(one.standing < 0.001
      ? []
      : wrap(
          `It still stands on something: ${percent(one.standing)}${one.standing < 0.5 ? "" : ". Look what bears it, and whether the legs were taut where the rise was counted from"}.`,
          width,
        )),
    ...(over === undefined ? [] : wrap(ink.bad(stopNow(over.load + tackle, one.stop.load)), width)),
    ...(least.length === 0 ? [] : ["Look in this order at what may still be made:"]),
    ...least.flatMap(({ id, label, probability, pull, position, hidden }, i) =>
      wrap(
        `${i + 1}. ${label} (${id})${position === undefined ? "" : `, ${position}`}${hidden ? ", hidden" : ""}: ${percent(probability)}, would pull ${kilonewtons(pull)}`,
        width,
        "  ",
      ),
    ),
    ...pairs.flatMap(({ ids, probability }) => wrap(`both ${ids.join(" and ")}: ${percent(probability)}`, width, "  ")),
    ...wrap(
      `A mass that nobody knows of: ${percent(one.unknownMass.probability)}${one.unknownMass.probability < 0.01 ? "" : `, about ${one.unknownMass.kilograms.toFixed(0)} kg`}${suspects.map(({ what, probability }) => `; ${what}: ${percent(probability)}`).join("")}.`,
      width,
    ),
    ...(one.misfit.strange
      ? wrap(
          ink.doubt(
            `None of this explains the readings: the best misses them by ${Math.sqrt(one.misfit.value).toFixed(1)} standard errors. Set it down and look again.`,
          ),
          width,
        )
      : []),
    ...(one.cannotTell.length === 0
      ? []
      : wrap(
          `Nothing can be told yet of ${one.cannotTell.map(({ id, slackLeft }) => `${id} (${(1000 * slackLeft).toFixed(0)} mm of slack left)`).join(", ")}.`,
          width,
        )),
    ...(one.noPlace.length === 0
      ? []
      : wrap(`The file gives no place for ${one.noPlace.join(", ")}: nothing is said of them.`, width)),
    ...wrap(
      `Stop hoisting above ${kilonewtons(one.stop.load)} on the cell: ${one.stop.because === "a limit" ? `the limit of ${one.stop.at} is reached there` : "more than the load can weigh"}.`,
      width,
    ),
    "",
    ...one.assumed.flatMap((text) => wrap(`Assumed: ${text}.`, width)),
    ...wrap("A calculation aid. What is likely is no proof: look, feel, and have a second person look.", width),
  ].join("\n");
}
