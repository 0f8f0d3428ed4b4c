// Owns the crew's schedule as text, in a hundred columns: each person's own page from first to last, the vehicle's states over time, and what makes it this long.

import { clockTime, lasting } from "./clock-time.ts";
import type { ChainLink, CrewPlan, CrewStep } from "./crew-plan.ts";

const WIDTH = 100;

/** A line broken at words, the others under its own beginning. */
const wrap = (head: string, text: string): readonly string[] => {
  const room = Math.max(30, WIDTH - head.length);
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= room) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines.map((line, index) => `${index === 0 ? head : " ".repeat(head.length)}${line}`.trimEnd());
};

const percent = (share: number): string => `${Math.round(100 * share)} %`;

interface Row {
  readonly from: number;
  readonly until: number;
  readonly where: string;
  readonly what: string;
}

const sayRows = (rows: readonly Row[], at: (minute: number) => string): readonly string[] => {
  const spans = rows.map(({ from, until }) => `${at(from)}–${at(until)}`);
  const wide = Math.max(0, ...spans.map((span) => span.length));
  const places = Math.min(24, Math.max(0, ...rows.map(({ where }) => where.length)));
  return rows.flatMap(({ where, what }, index) =>
    wrap(`  ${(spans[index] ?? "").padStart(wide)}  ${where.slice(0, places).padEnd(places)}  `, what),
  );
};

/** Steps of one person; who else is at it; what they leave to run on. */
const rowsOf = (plan: CrewPlan, person: string): readonly Row[] => {
  const names = new Map(plan.crew.people.map(({ id, label }) => [id, label]));
  const places = new Map(plan.positions.map(({ id, label }) => [id, label]));
  const others = (people: readonly string[]) =>
    people.filter((one) => one !== person).map((one) => names.get(one) ?? one);
  const withOthers = (people: readonly string[]) => {
    const list = others(people);
    return list.length === 0 ? "" : `, with ${list.join(" and ")}`;
  };
  const where = (position: string | undefined) => (position === undefined ? "" : (places.get(position) ?? position));
  const alone = ({ free, end }: CrewStep) => (end > free ? `; then ${lasting(end - free)} on its own` : "");
  return [
    ...plan.steps
      .filter((step) => step.people.includes(person) && step.done !== true)
      .map((step) => ({
        from: step.start,
        until: step.free,
        where: where(step.position),
        what: `${step.label}${withOthers(step.people)}${alone(step)}`,
      })),
    ...plan.changes
      .filter((change) => change.people.includes(person) && change.end > plan.now)
      .map((change) => ({
        from: change.start,
        until: change.end,
        where: where(change.position),
        what: `${change.label}${withOthers(change.people)}`,
      })),
    ...plan.away
      .filter((away) => away.person === person)
      .map(({ from, until }) => ({ from, until, where: "", what: until - from > 240 ? "(off)" : "(break)" })),
  ].sort((a, b) => a.from - b.from || a.until - b.until);
};

const sayPeople = (plan: CrewPlan, at: (minute: number) => string): readonly string[] =>
  plan.crew.people.flatMap(({ id, label, skills }) => {
    const busy = plan.busy.find((one) => one.kind === "person" && one.id === id);
    const able = skills.length === 0 ? "" : `  (${skills.join(", ")})`;
    const rows = rowsOf(plan, id);
    return [
      "",
      `${label.toUpperCase()}${able}  ${busy === undefined ? "" : `${lasting(busy.minutes)} of work, ${percent(busy.share)} of the time`}`,
      ...(rows.length === 0 ? ["  nothing to do"] : sayRows(rows, at)),
    ];
  });

/** From when to when each state is on. */
const sayStates = (plan: CrewPlan, at: (minute: number) => string): readonly string[] => {
  if (plan.states.length === 0) return [];
  const wide = Math.max(...plan.states.map(({ label }) => label.length));
  return [
    "",
    "THE VEHICLE",
    ...plan.states.flatMap(({ id, label }) => {
      const changes = plan.changes.filter((one) => one.state === id);
      const spells = changes.flatMap((change, index) => {
        if (!change.to) return [];
        const undone = changes[index + 1];
        return [undone === undefined ? `from ${at(change.end)}` : `${at(change.end)}–${at(undone.start)}`];
      });
      return wrap(`  ${label.padEnd(wide)}  `, spells.length === 0 ? "not in this plan" : spells.join(", "));
    }),
  ];
};

/** What a run of the chain waits for. */
const sayCause = ({ because, by }: Pick<ChainLink, "because" | "by">): string => {
  switch (because) {
    case "person":
      return `${by} has all of it to do`;
    case "stock":
      return `${by} is taken`;
    case "position":
      return `no more room: ${by}`;
    case "state":
      return `the vehicle is turned: ${by}`;
    case "shift":
      return `until ${by} is back`;
    case "pin":
      return "pinned to begin no sooner";
    default:
      return "one thing after the other";
  }
};

const FEW = 4;

const sayChain = (plan: CrewPlan, at: (minute: number) => string): readonly string[] => {
  const rows = plan.chain.map((run) => {
    const labels = run.steps.map(({ label }) => label);
    const more = labels.length > FEW ? `; … ; ${labels.at(-1)} (${labels.length} steps)` : "";
    const list = labels.length > FEW ? labels.slice(0, FEW - 1) : labels;
    return { from: run.from, until: run.until, where: "", what: `${sayCause(run)}: ${list.join("; ")}${more}` };
  });
  return rows.length === 0
    ? []
    : [
        "",
        "WHAT MAKES IT THIS LONG  the chain from the first step to the last, each waiting for the one before",
        ...sayRows(rows, at),
      ];
};

/** Below this share of the time nothing scarce is worth a line. */
const SCARCE = 0.1;

const sayScarce = (plan: CrewPlan): readonly string[] => {
  const scarce = plan.busy.filter((one) => one.kind !== "person" && one.share >= SCARCE);
  if (scarce.length === 0) return [];
  const lines = scarce.map(({ kind, label, minutes }) => {
    const of = `${Math.round(minutes)} of ${Math.round(plan.elapsed)} min`;
    if (kind === "position") return `${label}: no more room in ${of}`;
    return `${label}: ${kind === "system" ? "worked on" : "busy"} ${of}`;
  });
  return ["", "SCARCE  what is taken to its last", ...lines.flatMap((line) => wrap("  ", line))];
};

const sayHead = (plan: CrewPlan, at: (minute: number) => string): readonly string[] => {
  const { crew, status, elapsed, bound, gap, now } = plan;
  const begins = now > 0 ? "from" : "begins";
  const many = `${crew.people.length} ${crew.people.length === 1 ? "person" : "people"}`;
  const proof =
    status === "optimal"
      ? "Proved: no schedule of this crew is shorter."
      : `No schedule of this crew takes less than ${lasting(bound)} (${plan.boundBy}); what lies between, ${percent(gap)}, is not known.`;
  return [
    `${plan.vehicle}: ${plan.jobs.map((job) => job.label).join("; ")}`,
    ...(plan.note === undefined ? [] : wrap("", plan.note)),
    ...wrap(
      "",
      `${many}: ${crew.people.map((one) => one.label).join(", ")}.${crew.note === undefined ? "" : ` ${crew.note}`}`,
    ),
    "",
    ...wrap("", `${lasting(elapsed)} elapsed: ${begins} ${at(now)}, done ${at(now + elapsed)}. ${proof}`),
    ...wrap(
      "",
      `${lasting(plan.labour)} of work in all, ${plan.moves} changes of place.${plan.retold === 0 ? "" : ` ${plan.retold} steps go to others than were told.`}`,
    ),
  ];
};

/** The schedule as text. */
export const writeCrewPlan = (plan: CrewPlan): string => {
  const at = (minute: number) => clockTime(minute, plan.crew.begins);
  const { checks } = plan;
  return [
    ...sayHead(plan, at),
    ...sayStates(plan, at),
    ...sayPeople(plan, at),
    ...sayChain(plan, at),
    ...sayScarce(plan),
    "",
    "PROOF",
    ...wrap(
      "  ",
      `A checker that shares no code with the search replayed ${checks.steps} steps and ${checks.changes === 1 ? "1 change" : `${checks.changes} changes`} of state; the rules C1 to C13 of docs/crew.md held. Their order was put to the checkers of release and way back, as steps begin and as they end: R1 to R7 and B1 to B6 held.`,
    ),
    "",
    "ASSUMED",
    ...plan.assumed.flatMap((one) => wrap("  ", one)),
    "",
    ...wrap(
      "",
      "A planning and calculation aid: the maker's instructions, local codes and a competent person come first.",
    ),
  ].join("\n");
};
