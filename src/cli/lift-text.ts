// Owns the lift as text: how it hangs, what carries what, every check with its figures, what comes next. It says which check passed, and no more.

import type { HungDocument, LiftDocument, OneLift, StandsDocument, SupportDocument } from "./rigging-documents.ts";
import { type Terminal, wrap } from "./terminal.ts";

const kilonewtons = (newtons: number): string => `${(newtons / 1000).toFixed(2)} kN`;
const kilograms = (value: number): string => String(Number(value.toFixed(1)));
const metres = (value: number): string => `${value.toFixed(3)} m`;
const millimetres = (value: number): string => `${(1000 * value).toFixed(0)} mm`;
const degrees = (value: number): string => `${Math.abs(value) < 0.05 ? "0.0" : value.toFixed(1)}°`;

const pitchWords = (pitch: number): string =>
  Math.abs(pitch) < 0.05 ? "level lengthwise" : `${degrees(Math.abs(pitch))} nose ${pitch > 0 ? "down" : "up"}`;
const rollWords = (roll: number): string =>
  Math.abs(roll) < 0.05 ? "level across" : `${degrees(Math.abs(roll))} left side ${roll > 0 ? "up" : "down"}`;

/** Lines that are always said of a lift; common practice, marked so, and the limit of what this is. */
const PRACTICE = [
  "A calculation aid: the makers' data, local rules and a competent person go before it. Common practice: raise a few centimetres, stop, hold, read; nobody beneath; a tag line; the hook over the centre.",
] as const;

/** Ties that come taut first that fit on a screen; the document has all. */
const TAUT_SHOWN = 6;

export function sayLift(document: LiftDocument, terminal: Terminal): string {
  const { others, support } = document;
  return [
    ...[document as OneLift, ...others].flatMap((one, i) => [...(i === 0 ? [] : [""]), ...sayOne(one, terminal)]),
    ...(support === undefined ? [] : ["", ...saySupport(support, terminal)]),
    "",
    ...PRACTICE.flatMap((text) => wrap(text, terminal.width)),
  ].join("\n");
}

function sayOne(one: OneLift, terminal: Terminal): string[] {
  const { ink, width } = terminal;
  if (one.kind === "refused")
    return [
      ink.strong(one.label),
      ...one.faults.flatMap(({ at, what, mend }) => wrap(`${at}: ${what}. ${mend}`, width, "  ")),
    ];
  const { low, nominal, high } = one.mass;
  const parts = one.parts === undefined ? "" : `, ${one.parts.length} part${one.parts.length === 1 ? "" : "s"}`;
  const centre = one.centre
    .map((value, i) => `${"xyz"[i]} ${value.toFixed(3)} ± ${(one.within[i] ?? 0).toFixed(3)}`)
    .join(", ");
  return [
    ink.strong(`${one.label}${parts}`),
    ...wrap(
      `${kilograms(nominal)} kg${low === high ? "" : ` (${kilograms(low)} to ${kilograms(high)})`}; centre ${centre} m.`,
      width,
      "  ",
    ),
    ...(one.kind === "stands" ? sayStands(one, terminal) : sayHung(one, terminal)),
    "",
    ...sayChecks(one.checks, terminal),
    ...(one.kind === "stands" ? [] : sayTakeUp(one, terminal)),
    "",
    ...sayWay(one, terminal),
    ...(one.kind === "stands" ? [] : sayTrial(one, terminal)),
    ...(one.assumed.length === 0
      ? []
      : [
          "",
          ink.strong("Assumed, where the file does not say"),
          ...one.assumed.flatMap((text) => wrap(text, width, "  ")),
        ]),
  ];
}

function sayHung(one: HungDocument, { ink, width }: Terminal): string[] {
  const { ranges, stability, hook, liftOff } = one;
  const from = (range: { low: number; high: number } | undefined, say: (value: number) => string): string =>
    range === undefined ? "" : ` (${say(range.low)} to ${say(range.high)})`;
  const known = ranges.status === "none" ? undefined : ranges;
  const others = stability.others.map(({ pitch, roll }) => `${pitchWords(pitch)} and ${rollWords(roll)}`);
  const head =
    one.kind === "tips"
      ? ink.bad(
          stability.margin === null
            ? "It tips, however low its centre were: the beam does not stay as it is slung."
            : `It tips: the centre is ${metres(-stability.margin)} too high for how it is slung.`,
        )
      : `Hangs ${pitchWords(one.pitch)}${from(known?.pitch, degrees)}, ${rollWords(one.roll)}${from(known?.roll, degrees)}.`;
  return [
    ...wrap(
      `${head} Pitch is positive nose down, roll left side up.${
        known === undefined
          ? ` No ranges: ${ranges.status === "none" ? ranges.why : ""}.`
          : known.status === "tried"
            ? " The ranges are of cases tried, and prove nothing: a leg may hang slack, more carry than statics can tell, or legs stretch far."
            : " No case that the tolerances allow lies outside the brackets."
      }`,
      width,
      "  ",
    ),
    ...wrap(
      `${hook.each.length === 1 ? "Hook" : "Hooks"}: ${kilonewtons(hook.load)} of load${hook.each.length === 1 ? "" : `, ${hook.each.map(({ id, load }) => `${id} ${kilonewtons(load)}`).join(" and ")}`}${hook.overCentre === undefined ? "" : `, ${metres(hook.overCentre)} over the centre`}${
        liftOff === undefined || hook.each.length > 1
          ? ""
          : `; it stands over x ${liftOff.over[0].toFixed(3)}, y ${liftOff.over[1].toFixed(3)} m as the weight comes on`
      }.${
        liftOff?.swing === undefined
          ? ""
          : ` Where it stands now the load swings ${metres(liftOff.swing[0])} forward and ${metres(liftOff.swing[1])} to the left at lift-off.`
      }`,
      width,
      "  ",
    ),
    ...(one.kind === "tips" || stability.margin === null
      ? wrap(`It would turn over to ${others[0] ?? "some other attitude"}.`, width, "  ")
      : wrap(
          `Stable: the centre could be ${metres(stability.margin)} higher${known === undefined ? "" : `, at the least ${metres(known.margin.low)}`} before it tips; ${(stability.righting ?? 0).toFixed(0)} N·m a degree set it upright.${
            others.length === 0 ? "" : ` Turned over it would also hang ${others.join("; ")}.`
          }`,
          width,
          "  ",
        )),
    "",
    "  leg                  tension    over all that is not known   from horizontal   length",
    ...one.legs.map(({ id, tension, angle, length, slack, range }) => {
      const over = range === undefined ? "" : `${kilonewtons(range.tension.low)} to ${kilonewtons(range.tension.high)}`;
      const name = `${id}`.padEnd(18);
      return `  ${name} ${(tension > 0 ? kilonewtons(tension) : `slack ${millimetres(slack)}`).padStart(10)}    ${over.padEnd(26)} ${degrees(angle).padStart(10)}        ${metres(length)}${range?.maySlack ? "  may hang slack" : ""}`;
    }),
    ...worst(one, width),
  ];
}

/** What makes the most loaded leg's worst case. */
function worst(one: HungDocument, width: number): string[] {
  const most = one.legs.reduce<HungDocument["legs"][number] | undefined>(
    (a, b) => ((b.range?.tension.high ?? 0) > (a?.range?.tension.high ?? 0) ? b : a),
    undefined,
  );
  const causes = (most?.causes ?? []).filter(({ adds }) => Math.abs(adds) >= 5);
  if (most === undefined || causes.length === 0) return [];
  const says: Readonly<Record<string, string>> = {
    mass: "the mass",
    centre: "the centre",
    lengths: "the lengths",
    stiffness: "the stiffness",
    "which legs carry": "that only some legs carry",
    "not reached": "what no case was found to reach",
  };
  return wrap(
    `What makes it worst for ${most.id}: ${causes.map(({ cause, adds }) => `${says[cause] ?? cause} ${adds > 0 ? "+" : "−"}${kilonewtons(Math.abs(adds))}`).join(", ")}.`,
    width,
    "  ",
  );
}

function sayStands(one: StandsDocument, { ink, width }: Terminal): string[] {
  return [
    ...(one.falls
      ? [ink.bad("  Nothing it stands on keeps it.")]
      : wrap(
          `Stands on ${one.shares.map(({ id, force }) => `${id} ${kilonewtons(force)}${between(one, id)}`).join(", ")}${
            one.margin === undefined ? "" : `; the centre lies ${millimetres(one.margin)} inside at the least`
          }${one.tilt < 0.05 ? "" : `; it tilts by ${degrees(one.tilt)} on their give`}.${one.maySlide ? " Nothing holds it sideways but friction: it may slide." : ""}${one.range === undefined ? "" : " In brackets what each may carry whatever its stiffness."}`,
          width,
          "  ",
        )),
    ...(leaning(one) === "" ? [] : wrap(leaning(one), width, "  ")),
  ];
}

/** What a bearing may carry over all that is not known. */
function between({ range }: StandsDocument, id: string): string {
  const own = range?.shares.find((share) => share.id === id);
  return own === undefined ? "" : ` (${kilonewtons(own.low)} to ${kilonewtons(own.high)})`;
}

/** How far what it stands on may lean. */
function leaning({ range }: StandsDocument): string {
  if (range === undefined) return "";
  const { leans, uneven, tilt } = range;
  return [
    ...(leans === undefined
      ? []
      : [
          `What it stands on may lean by ${degrees(leans)} before the centre is over the edge${uneven === undefined ? "" : `, and one of the two be ${millimetres(uneven)} lower than the other`}.`,
        ]),
    ...(tilt.most < 0.05
      ? []
      : [`On their give it tilts by ${degrees(tilt.most)} at ${tilt.sure ? "the most" : "the most that was tried"}.`]),
  ].join(" ");
}

const sayChecks = (checks: HungDocument["checks"], terminal: Terminal): string[] => [
  terminal.ink.strong("Checks"),
  ...checkLines(checks, terminal),
];

function checkLines(checks: HungDocument["checks"], { ink, width }: Terminal): string[] {
  const mark = {
    passes: ink.good("passes"),
    attention: ink.doubt("attention"),
    fails: ink.bad("FAILS"),
    "not checked": ink.doubt("NOT CHECKED"),
  };
  return checks.flatMap(({ check, at, gear, verdict, figures, margin, source, assumed, mend }) =>
    wrap(
      `${mark[verdict]}: ${check} ${at}${gear === undefined || gear === at ? "" : `, ${gear}`}: ${figures}${
        margin === undefined || margin === null ? "" : `, ${(100 * margin).toFixed(0)} % left`
      } (${source}${assumed ? "; a default" : ""}).${mend === undefined ? "" : ` ${mend}`}`,
      width,
      "  ",
    ),
  );
}

function sayTakeUp({ takeUp }: HungDocument, { ink, width }: Terminal): string[] {
  if (takeUp === undefined) return [];
  const { fit, nearest, neighbours, why, looked, proved, pins } = takeUp;
  const one = (found: NonNullable<typeof fit>): string => {
    const steps = Object.entries(found.taken).map(([leg, n]) => `${leg} ${n}`);
    const range =
      found.range === undefined
        ? ""
        : `, over ${found.tried ? "the cases tried" : "all that is not known"} ${degrees(found.range.pitch[0])} to ${degrees(found.range.pitch[1])} and ${degrees(found.range.roll[0])} to ${degrees(found.range.roll[1])}`;
    return `${found.pin === undefined ? "" : `the beam by ${found.pin}, `}${steps.join(", ")}: pitch ${degrees(found.pitch)}, roll ${degrees(found.roll)}${range}`;
  };
  const search = `${looked} combinations looked at, ${proved} held against their ranges.`;
  const lines =
    why !== undefined
      ? [`Not searched: ${why}.`]
      : pins !== undefined
        ? [
            pins[0]?.miss === 0
              ? `Hang the beam by ${pins[0].pin}.${pins[0].proved ? "" : " Cases were tried, which proves nothing: look as it rises."}`
              : "Nothing fits what is wanted, wherever the beam is hung.",
            ...pins.map(
              ({ pin, pitch, roll, miss }) =>
                `by ${pin}: pitch ${degrees(pitch[0])} to ${degrees(pitch[1])}, roll ${degrees(roll[0])} to ${degrees(roll[1])}${miss === 0 ? "" : `, misses by ${degrees(miss)}`}`,
            ),
          ]
        : fit !== undefined
          ? [`Take up, in whole steps: ${one(fit)}. ${search}`]
          : nearest === undefined
            ? [`Nothing hangs with any steps taken up. ${search}`]
            : [
                `Nothing fits what is wanted. The nearest misses by ${nearest.miss === null ? "more than can be said" : degrees(nearest.miss)}: ${one(nearest)}. ${search}`,
                ...neighbours.map((each) => `beside it ${one(each)}`),
              ];
  return ["", ink.strong("Lengths for what is wanted"), ...lines.flatMap((text) => wrap(text, width, "  "))];
}

const gone = (rise: number): string => `${rise < 0 ? "lowered" : "risen"} ${metres(Math.abs(rise))}`;

function sayWay({ kind, clearing, taut }: HungDocument | StandsDocument, { ink, width }: Terminal): string[] {
  const { least, contact, atStart } = clearing;
  const soon = taut.filter(({ rise }) => rise !== undefined);
  const groups = new Map<string, string[]>();
  for (const { id, rise = 0 } of soon) {
    const key = `${millimetres(Math.abs(rise))}${rise < 0 ? " down" : ""}`;
    groups.set(key, [...(groups.get(key) ?? []), id]);
  }
  const tied = [...groups].slice(0, TAUT_SHOWN).map(([rise, ids]) => `at ${rise} ${some(ids)}`);
  return [
    ink.strong("On its way"),
    ...(contact === undefined
      ? []
      : wrap(
          `${ink.bad("TOUCHES")}: ${contact.box} meets ${contact.obstacle} after ${metres(contact.travel)} of the way, ${gone(contact.rise)}.`,
          width,
          "  ",
        )),
    ...(least === undefined
      ? wrap(
          atStart.length > 0
            ? "Clearing is not checked: nothing is left that does not overlap before anything moves."
            : "Clearing is not checked: the file has no outline of the load, or nothing that stands in its way.",
          width,
          "  ",
        )
      : wrap(
          `Least clearance at the attitude it ${kind === "stands" ? "stands" : "hangs"} at: ${millimetres(least.gap)}, ${least.box} to ${least.obstacle}, after ${metres(least.travel)} of the way, ${gone(least.rise)}.`,
          width,
          "  ",
        )),
    ...atStart.flatMap(({ box, obstacle }) =>
      wrap(`${box} and ${obstacle} overlap before anything moves, and are counted no further.`, width, "  "),
    ),
    ...(tied.length === 0
      ? []
      : wrap(
          `A tie left on would come taut, by ${kind === "stands" ? "the way up or down" : "rise"} of the load: ${tied.join("; ")}.`,
          width,
          "  ",
        )),
  ];
}

function sayTrial({ stop, taking, hook }: HungDocument, { width }: Terminal): string[] {
  const off = taking.find(({ onFeet }) => onFeet <= 0);
  const seen = taking.map(
    ({ rise, load, pitch, roll }) => `${millimetres(rise)} ${kilonewtons(load)} ${degrees(pitch)} ${degrees(roll)}`,
  );
  return [
    ...wrap(
      `Stop hoisting above ${kilonewtons(stop.load)} on ${hook.each.length === 1 ? "the load cell" : "the load cells together"}, tackle and all: ${stop.because === "a limit" ? `the limit of ${stop.at} is reached there` : "more than the load can weigh"}.`,
      width,
      "  ",
    ),
    ...(taking.length === 0
      ? []
      : wrap(
          `Freed, as the hook rises (rise, load, pitch, roll): ${seen.join("; ")}${off === undefined ? "" : `; off its seats by ${millimetres(off.rise)}`}.`,
          width,
          "  ",
        )),
  ];
}

function saySupport({ least, steps, checks, notComputed }: SupportDocument, terminal: Terminal): string[] {
  const { ink, width } = terminal;
  return [
    ink.strong("What carries what, after each step that changes it"),
    ...steps.flatMap(({ step, label, bodies }) =>
      bodies.flatMap(({ parts, shares, margin, falls, maySwing, maySlide }) =>
        wrap(
          `${step}. ${label}: ${some(parts)} ${
            falls
              ? ink.bad("FALLS")
              : `on ${shares.map(({ id, force }) => `${id} ${force < -5 ? `held down by ${kilonewtons(-force)}` : kilonewtons(Math.max(0, force))}`).join(", ")}`
          }${margin === undefined ? "" : `, ${millimetres(margin)} inside`}${maySwing ? ", may swing" : maySlide && !falls ? ", may slide" : ""}.`,
          width,
          "  ",
        ),
      ),
    ),
    ...notComputed.flatMap(({ parts, why }) => wrap(`Not reckoned: ${some(parts)}: ${why}.`, width, "  ")),
    ...(least === undefined
      ? wrap("No margin to tell: nothing stands that only what bears it from below keeps.", width, "  ")
      : wrap(
          `Least margin of all: ${least.margin === null ? "it falls" : millimetres(least.margin)}, ${least.body}, after step ${least.step}.`,
          width,
          "  ",
        )),
    ...checkLines(
      checks.map(({ step, ...check }) => ({ ...check, figures: `after step ${step}, ${check.figures}` })),
      terminal,
    ),
  ];
}

/** Names of which only the first few are said. */
const some = (names: readonly string[]): string =>
  names.length <= 4 ? names.join(", ") : `${names.slice(0, 3).join(", ")} and ${names.length - 3} more`;
