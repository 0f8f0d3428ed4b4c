// Owns the words of what to change first: the design's cost, the ranked changes, the pairs.

import { lasting } from "./clock-time.ts";
import type { Improved, ImprovedChange, ImproveStage, Ranking } from "./improve.ts";

/** Less than this is no saving, minutes. */
const SEEN = 0.05;

const worthOf = ({ labour, elapsed, p95 }: ImprovedChange, by: Ranking): number =>
  ({ labour, elapsed, p95: p95.value })[by];

/** The changes, what spares most first; labour and then the name decide what is alike. */
export const ranked = (changes: readonly ImprovedChange[], by: Ranking): readonly ImprovedChange[] =>
  changes.toSorted((a, b) => worthOf(b, by) - worthOf(a, by) || b.labour - a.labour || a.id.localeCompare(b.id));

const cell = (minutes: number): string => (Math.abs(minutes) < SEEN ? "·" : minutes.toFixed(1)).padStart(8);

const does = ({ labour, elapsed, p95, jobs }: ImprovedChange): boolean =>
  [labour, elapsed, p95.value].some((one) => Math.abs(one) >= SEEN) || jobs.some(({ how }) => how === "impossible");

const money = (value: number): string => value.toFixed(0);

export const sayStage = ({ doing, at, of, changes }: ImproveStage): string =>
  doing === "planning" ? `planning job ${at} of ${of}` : `trying ${changes} changes on job ${at} of ${of}`;

/** The answer as text, ranked by one of the three. */
export const writeImproved = (improved: Improved, by: Ranking): string => {
  const { jobs, cost, mean, weighed, pairs, untried } = improved;
  const list = ranked(improved.changes, by);
  const shown = list.filter(does);
  const reckoned = jobs.filter(({ status }) => status === "reckoned");
  const times = weighed ? "a year" : "for one of each";
  return [
    `${improved.vehicle}: what to change first, over ${reckoned.length} ${reckoned.length === 1 ? "job" : "jobs"}, ${improved.people} people`,
    ...(improved.note === undefined ? [] : [improved.note]),
    "",
    "job                                        weight   labour  elapsed      P95   (person-min, min, min)",
    ...jobs.map(({ label, weight, status, labour, elapsed, p95 }) =>
      status === "reckoned"
        ? `${label.slice(0, 40).padEnd(40)} ${String(weight).padStart(8)} ${(labour ?? 0).toFixed(0).padStart(8)} ${(elapsed ?? 0).toFixed(0).padStart(8)} ${(p95 ?? 0).toFixed(0).padStart(8)}`
        : `${label.slice(0, 40).padEnd(40)} ${String(weight).padStart(8)}  ${status === "no plan" ? "no plan with this crew" : "not reckoned: stopped before"}`,
    ),
    `${"mean of a repair".padEnd(49)} ${mean.labour.toFixed(0).padStart(8)} ${mean.elapsed.toFixed(0).padStart(8)} ${mean.p95.toFixed(0).padStart(8)}`,
    "",
    `WHAT THE DESIGN COSTS  ${lasting(Math.round(cost.labour))} of labour ${times}${cost.money === undefined ? "" : `, ${money(cost.money)} at the given rate`}; most of it`,
    ...cost.steps.map(
      ({ label, labour, share }) =>
        `  ${labour.toFixed(0).padStart(7)} min ${`${(share * 100).toFixed(1)} %`.padStart(7)}  ${label}`,
    ),
    "",
    `WHAT TO CHANGE FIRST  spared in a mean repair, by ${by === "p95" ? "the 95th percentile" : by}`,
    "   labour  elapsed      P95  ±      jobs",
    ...shown.map(
      (change) =>
        ` ${cell(change.labour)} ${cell(change.elapsed)} ${cell(change.p95.value)}  ${change.p95.error.toFixed(1).padEnd(4)} ${String(change.jobs.length).padStart(5)}  ${change.label}${change.years === undefined ? "" : `  (earns its cost in ${change.years.toFixed(1)} years)`}${impossible(change)}`,
    ),
    ...shown.slice(0, 3).map(({ label, why }, index) => `${index === 0 ? "\n" : ""}${label}: ${why}.`),
    "",
    `${list.length - shown.length - untried.length} more were tried and spare nothing.`,
    ...(untried.length === 0 ? [] : [`Stopped before ${untried.length} of them were tried on every job.`]),
    "",
    ...(pairs.length === 0
      ? ["No two spare more together than apart."]
      : [
          "MORE TOGETHER THAN APART  besides what each spares alone",
          "   labour  elapsed",
          ...pairs.map(({ labels, labour, elapsed }) => ` ${cell(labour)} ${cell(elapsed)}  ${labels.join(" + ")}`),
        ]),
    "",
    ...improved.assumed,
  ].join("\n");
};

const impossible = ({ jobs }: ImprovedChange): string => {
  const count = jobs.filter(({ how }) => how === "impossible").length;
  return count === 0 ? "" : `  (makes ${count} of the jobs impossible)`;
};
