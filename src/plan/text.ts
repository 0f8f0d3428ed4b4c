// Owns the plan as text: what one person reads from top to bottom while doing the job. It says which check passed on which figures, and no more.

import { GENERAL } from "./cautions.ts";
import { sayCount, sayTightening } from "./hardware-text.ts";
import type { Between, Item, LiftInShort, Plan, PlannedLift, PlanStep, Visit } from "./plan.ts";

/** Letters a line; longer words stand out. */
const WIDTH = 110;

/** Breaks a sentence into lines that stand under one another. */
const wrap = (text: string, indent: string, hang = indent): readonly string[] => {
  const lines: string[] = [];
  let line = indent;
  for (const word of text.split(" ")) {
    const grown = line.trim() === "" ? `${line}${word}` : `${line} ${word}`;
    if (grown.length > WIDTH && line.trim() !== "") {
      lines.push(line);
      line = `${hang}${word}`;
    } else line = grown;
  }
  return [...lines, line];
};

const number = (value: number, digits = 1): string => String(Number(value.toFixed(digits)));
const minutes = (value: number): string => `${number(value)} min`;
const listed = (list: readonly Item[]): string => list.map(({ item, count }) => `${count} × ${item}`).join(", ");

const FEW = 8;
const some = (names: readonly string[]): string =>
  names.length <= FEW ? names.join(", ") : `${names.slice(0, FEW - 1).join(", ")} and ${names.length - FEW + 1} more`;

const VERB: Readonly<Record<PlanStep["action"], string>> = {
  release: "Release: ",
  loosen: "Loosen, leave in place: ",
  refit: "Refit: ",
  tighten: "Tighten again: ",
  verify: "",
  do: "",
  undo: "",
  work: "",
  return: "",
  perform: "",
};

const PAD = "        ";

const sayLook = (step: PlanStep): readonly string[] => [
  ...wrap(
    `${step.number}. LAST LOOK, before "${step.closes}" closes over it. Verified by a second person:`,
    "  ".padEnd(4),
    PAD,
  ),
  ...(step.verify ?? []).map(({ label, hidden }) => `${PAD}- ${label}${hidden ? " (hidden: feel or mirror)" : ""}`),
];

const sayStep = (step: PlanStep, plan: Plan, said: Set<string>): readonly string[] => {
  if (step.action === "verify") return sayLook(step);
  const labels = (ids: readonly string[]) => ids.map((id) => plan.labels[id] ?? id).join(", ");
  const cautions = step.cautions.filter(({ id }) => !said.has(id));
  for (const { id } of cautions) said.add(id);
  const people = step.people === 1 ? "" : `, ${step.people} people`;
  const skill = step.skill === undefined ? "" : `, ${step.skill}`;
  // Of the people only what is more than one can surprise.
  const guessed = step.assumed.filter((what) => what !== "people" || step.people > 1);
  const assumed = guessed.length === 0 ? "" : `, ${guessed.join(" and ")} assumed`;
  const wait = step.wait === undefined ? "" : `; then ${minutes(step.wait)} that nobody stands by for`;
  const back = step.action === "refit" || step.action === "tighten";
  const details: readonly (readonly [string, string | undefined])[] = [
    ["fetch", labels(step.fetch)],
    ["tools", step.tools.join(", ")],
    [back ? "to the marks" : "mark first", step.mark],
    ["protect", step.protect],
    ["catch", step.catch],
    ["take out", listed(step.takeOut)],
    ["put in", listed(step.putIn)],
    [back ? "fasteners in" : "fasteners out", sayCount(step)],
    [back ? "kept with its place" : "keep with its place", step.keep],
    ["new", step.fresh.join(", ")],
    ["use", step.uses?.join(", ")],
    ...sayTightening(step),
    ["check", step.check],
    ["set aside", labels(step.setAside)],
    ["note", step.note],
  ];
  return [
    ...cautions.flatMap(({ word, text }) => wrap(`${word}  ${text}`, "      ! ", PAD)),
    ...wrap(
      `${step.number}. ${VERB[step.action]}${step.label}  (${minutes(step.minutes)}${people}${skill}${assumed})${wait}`,
      "    ",
      PAD,
    ),
    ...details.flatMap(([name, value]) =>
      value === undefined || value === "" ? [] : wrap(`${name}: ${value}`, PAD, `${PAD}  `),
    ),
  ];
};

const sayVisit = (visit: Visit, plan: Plan): readonly string[] => {
  const said = new Set<string>();
  const tools = visit.tools.length === 0 ? [] : wrap(`bring: ${visit.tools.join(", ")}`, "    ", "      ");
  return [
    "",
    `  ${visit.label}  (${minutes(visit.minutes)})`,
    ...tools,
    ...visit.steps.flatMap((step) => sayStep(step, plan, said)),
  ];
};

const saySection = (title: string, visits: readonly Visit[], moves: string, plan: Plan): readonly string[] => {
  if (visits.length === 0) return [];
  const total = visits.reduce((sum, visit) => sum + visit.minutes, 0);
  return [
    "",
    `${title}  ${minutes(total)} one step after the other${moves}`,
    ...visits.flatMap((visit) => sayVisit(visit, plan)),
  ];
};

const sayMoves = (made: number, fewest: number): string => {
  const visits = `; ${made} visit${made === 1 ? "" : "s"} to positions, `;
  return `${visits}${made === fewest ? "proved the fewest" : `no order of these steps has fewer than ${fewest}`}`;
};

const sayLift = (lift: PlannedLift, plan: Plan): readonly string[] => {
  const parts = lift.parts.map(
    ({ label, mass }) => `${label} (${mass === null ? "no mass in the file" : `${number(mass)} kg`})`,
  );
  const limits = [
    ...(lift.hoist === undefined
      ? []
      : [
          `${lift.hoist.label} ${number(lift.hoist.limit)} kg${lift.hoist.reach === undefined ? ", the least of its figures, for the file gives no reach" : ` at ${lift.hoist.reach} m reach`}${lift.hoist.tackle === undefined ? "" : `, ${number(lift.hoist.tackle)} kg of tackle taken off`}${lift.beam === undefined ? "" : `, ${number(lift.beam.mass)} kg of beam taken off`}`,
        ]),
    ...(lift.beam?.limit === undefined ? [] : [`below the beam ${lift.beam.id} ${number(lift.beam.limit)} kg`]),
    ...(lift.eyes === undefined
      ? []
      : [
          lift.eyes.ids.length === 1
            ? `the eye ${lift.eyes.ids[0]} ${number(lift.eyes.limit)} kg`
            : `the eyes ${lift.eyes.ids.join(", ")} ${number(lift.eyes.limit)} kg, twice the weakest, for only two legs are sure to carry (common practice)`,
        ]),
  ];
  const weightless = some(lift.withoutMass.map((id) => plan.labels[id] ?? id));
  const allowed = lift.limit === null ? "" : `${number(lift.limit)} kg, the least of: ${limits.join("; ")}.`;
  const check =
    lift.limit === null
      ? "The file gives no limit: nothing was compared."
      : weightless === ""
        ? `Check passed: ${number(lift.mass)} kg, the upper end of every tolerance, against ${allowed}`
        : `NOT CHECKED: without a mass in the file: ${weightless}. The others come to ${number(lift.mass)} kg; the limit is ${allowed}`;
  return [
    ...wrap(
      `Lift "${lift.label}": ${lift.parts.length} parts${weightless === "" ? `, ${number(lift.mass)} kg` : ""}: ${parts.join(", ")}.`,
      "  ",
      "    ",
    ),
    ...wrap(`${check} Hook, slings and beams come on top.`, "    "),
    ...sayHanging(lift.hanging, plan).flatMap((line) => wrap(line, "    ")),
  ];
};

const degrees = ({ nominal, low, high }: Between): string =>
  `${number(nominal, 1)}°${low === undefined || high === undefined ? "" : ` (${number(low, 1)}° to ${number(high, 1)}°)`}`;
const newtons = (value: number): string => `${(value / 1000).toFixed(2)} kN`;

/** How it hangs in short: what whoever does the job needs, and what did not pass. */
const sayHanging = (short: LiftInShort | undefined, { labels }: Plan): readonly string[] => {
  if (short === undefined) return [];
  // Of a box that is one of several the part's name stands.
  const label = (id: string) => labels[id.split("/")[0]!] ?? id;
  if (short.kind === "not reckoned") return [`Angles, legs and stability were not looked at: ${short.why}`];
  const open = short.open.map(
    ({ check, at, verdict, figures }) => `${verdict.toUpperCase()}: ${check} ${label(at)}: ${figures}.`,
  );
  const checks = `${short.passed} checks of the ${short.kind === "stands" ? "stand" : "sling"} passed${open.length === 0 ? "" : `; not these: ${open.join(" ")}`}${open.length === 0 ? "." : ""}`;
  const way =
    short.clearance === undefined
      ? []
      : [
          short.clearance.gap > 0
            ? `Least clearance on its way ${number(1000 * short.clearance.gap, 0)} mm, ${label(short.clearance.box)} to ${label(short.clearance.obstacle)}.`
            : `IT TOUCHES on its way: ${label(short.clearance.box)} meets ${label(short.clearance.obstacle)}.`,
        ];
  if (short.kind === "stands")
    return [
      `Stands on its pads${short.margin === undefined ? "" : `, the centre ${number(1000 * short.margin, 0)} mm inside at the least`}. ${[checks, ...way].join(" ")}`,
    ];
  const legs = short.legs.map(
    ({ id, tension, angle }) =>
      `${id} ${newtons(tension.nominal)}${tension.high === undefined ? "" : ` (at most ${newtons(tension.high)})`} at ${number(angle, 0)}° from the horizontal`,
  );
  return [
    `${short.kind === "tips" ? "IT TIPS as it is slung: balanced at" : "Hangs at"} pitch ${short.pitch === undefined ? "" : degrees(short.pitch)}, roll ${short.roll === undefined ? "" : degrees(short.roll)}, nose down and left side up positive: ${legs.join("; ")}.`,
    `${[checks, ...way].join(" ")}${short.stop === undefined ? "" : ` Stop hoisting above ${newtons(short.stop)} on the load cell.`} All of it: unmoor lift.`,
  ];
};

const sayLabour = ({ status, figures }: Plan): string => {
  const { labour, bound } = figures;
  const proof =
    status === "optimal"
      ? `least labour, proved: no legal plan takes less than ${number(bound)}`
      : `within ${number(labour - bound)} of the least: no legal plan takes less than ${number(bound)}`;
  return `Labour, release and refit together: ${number(labour)} person-minutes; ${proof}.`;
};

const sayHead = (plan: Plan): readonly string[] => {
  const { crew, figures } = plan;
  const people = crew.people === 1 ? "1 person" : `${crew.people} people`;
  const who =
    crew.names.length > 0 ? `${people} (${crew.names.join("; ")})` : crew.people === undefined ? "anyone" : people;
  const beside = [
    ...(figures.work > 0 ? [`the jobs' own work ${number(figures.work)} person-minutes`] : []),
    ...(figures.waiting > 0 ? [`${minutes(figures.waiting)} of waiting that nobody stands by for`] : []),
    ...(figures.beyond > 0
      ? [
          `${number(figures.beyond)} person-minutes for states that the way back sets oftener than the way out, beyond what was proved least`,
        ]
      : []),
  ];
  return [
    `${plan.vehicle}: ${plan.jobs.map((job) => job.label).join("; ")}`,
    ...(plan.note === undefined ? [] : wrap(plan.note, "")),
    ...wrap(`Crew: ${who}`, ""),
    ...wrap(sayLabour(plan), ""),
    ...(beside.length === 0 ? [] : wrap(`Besides: ${beside.join("; ")}.`, "")),
    "",
    ...GENERAL.flatMap((text) => wrap(text, "")),
  ];
};

const sayProofs = (plan: Plan): readonly string[] => {
  const { checks, labels } = plan;
  const names = (ids: readonly string[]) => some(ids.map((id) => labels[id] ?? id));
  const free =
    plan.lifts.length === 0
      ? ""
      : ` At each lift a search from its parts over the connections then made reached nothing fixed; ${checks.out.searched} stay made.`;
  const out = checks.out.legal
    ? `Out: a checker that shares no code with the solver replayed ${checks.out.steps} steps; the needs of every step held when it was made, and everything stayed carried, rested or set aside within the hand limit.${free}`
    : "Out: THE CHECKER FOUND FAULTS. Do not work to this plan.";
  const back = checks.back.holds
    ? `Back: a replay of its own went through ${checks.back.steps} steps; all that was released is made again, with access when it is made; what must carry carries; what was put in comes out.`
    : `Back: THE CHECK FOUND ${checks.back.faults.length} FAULTS: ${checks.back.faults.map((fault) => `${fault.rule} ${fault.what}${"id" in fault ? ` ${labels[fault.id] ?? fault.id}` : ""}`).join("; ")}.`;
  return [
    "",
    "CHECKS",
    ...plan.lifts.flatMap((lift) => sayLift(lift, plan)),
    ...wrap(out, "  ", "    "),
    ...(checks.out.late.length === 0
      ? []
      : wrap(
          `Doubtful: these are released at the vehicle after the lift has taken them away; give them a way at the stand: ${names(checks.out.late)}.`,
          "  ",
          "    ",
        )),
    ...wrap(back, "  ", "    "),
    ...checks.rested.flatMap(({ parts, on, inside }) =>
      wrap(
        `Rests for a while on ${names(on)}: ${names(parts)}; centre of mass ${number(inside * 1000, 0)} mm inside.`,
        "  ",
        "    ",
      ),
    ),
  ];
};

const sayLists = (plan: Plan): readonly string[] => {
  const label = (id: string) => plan.labels[id] ?? id;
  const swaps = plan.swaps.flatMap(({ parts, carriedOver, connections }) => [
    "",
    "CARRIED OVER  from the old assembly to the new",
    ...wrap(`Comes with the new: ${parts.map(label).join(", ")}.`, "  ", "    "),
    ...wrap(`Carried over: ${carriedOver.length === 0 ? "nothing" : carriedOver.map(label).join(", ")}.`, "  ", "    "),
    ...wrap(
      `Released from the old and made on the new: ${connections.length} connections, each at its step.`,
      "  ",
      "    ",
    ),
  ]);
  const temporary = plan.temporary.map(
    ({ item, count, in: put, out }) =>
      `  ${count} × ${item}: in at ${put}, ${out === undefined ? "NOTHING TAKES IT OUT" : `out at ${out}`}`,
  );
  const times = new Map<string, number>();
  for (const { item, step } of plan.fresh)
    times.set(`${item}: at ${step}`, (times.get(`${item}: at ${step}`) ?? 0) + 1);
  const fresh = [...times].map(([line, count]) => `  ${count === 1 ? "" : `${count} × `}${line}`);
  const removed = plan.removed.flatMap(({ label: name, why }) => wrap(`${name}: ${why}`, "  ", "    "));
  const kinds = new Map<string, string[]>();
  for (const { id, what } of plan.assumed) kinds.set(what, [...(kinds.get(what) ?? []), id]);
  const assumed = [...kinds].flatMap(([what, ids]) =>
    wrap(`${WHAT_IS_ASSUMED[what as keyof typeof WHAT_IS_ASSUMED]}: ${ids.length}: ${some(ids)}`, "  ", "    "),
  );
  const section = (title: string, lines: readonly string[]) => (lines.length === 0 ? [] : ["", title, ...lines]);
  return [
    ...swaps,
    ...section("TEMPORARY THINGS  in and out, by step", temporary),
    ...section("MUST BE NEW  by step", fresh),
    ...section(
      "RELEASED BEFORE  this plan began; their refit is no part of it",
      plan.releasedBefore.flatMap((id) => wrap(label(id), "  ")),
    ),
    ...section("LEFT OUT  because the order lacks something for it", removed),
    ...section("ASSUMED  where the file gives no figure", assumed),
  ];
};

const WHAT_IS_ASSUMED = {
  "refit time": "refit takes as long as release",
  "refit people": "refit takes as many people as release",
  return: "its return takes the same time and people",
  "hang return": "hanging it back takes the same time and people",
  "no mass": "no mass, counted as nothing",
  "no hoist": "no hoist, so no limit",
  "no reach": "no reach, so the least of the hoist's figures",
} as const;

/** The plan as text, for a terminal or a printer: lines of at most 110 letters. */
export const writePlan = (plan: Plan): string =>
  [
    ...sayHead(plan),
    ...sayProofs(plan),
    ...saySection("OUT", plan.out, sayMoves(plan.moves.out, plan.moves.outFewest), plan),
    ...saySection("WORK", plan.work, "", plan),
    ...saySection("BACK", plan.back, sayMoves(plan.moves.back, plan.moves.backFewest), plan),
    ...sayLists(plan),
  ].join("\n");
