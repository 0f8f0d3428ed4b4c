// Owns the page of a shift change: what is half done, where each loose part lies, what is snug, what waits for whom, what is off and who holds its key.

import type { Where } from "./brief.ts";
import type { Finding } from "./finding.ts";
import type { JointState } from "./joint-table.ts";
import type { Ledger } from "./ledger.ts";
import { Names } from "./names.ts";
import { progressOf, type StepStanding } from "./progress.ts";
import type { Contradiction } from "./rules.ts";

export interface ShiftJoint {
  readonly id: string;
  readonly label: string;
  readonly state: JointState;
  readonly where?: Where;
  /** Who had a hand in it, by label. */
  readonly by: readonly string[];
  /** Milliseconds since 1970. */
  readonly at: number;
}

export interface ShiftPage {
  /** Milliseconds since 1970 of the last entry, by its own clock. */
  readonly at: number;
  readonly percentApart: number;
  readonly percentBack: number;
  /** Snug only: it looks done and is not. */
  readonly snug: readonly ShiftJoint[];
  /** Loosened, in place, torqued or locked without being signed as refitted. */
  readonly half: readonly ShiftJoint[];
  /** Of a lift's cut, released and waiting for a second person, hidden ones first; and refitted and waiting for the last look. */
  readonly toVerify: readonly (ShiftJoint & { readonly hidden: boolean; readonly who: readonly string[] })[];
  readonly lying: readonly { readonly part: string; readonly label: string; readonly where: string }[];
  readonly off: readonly { readonly energy: string; readonly key: string }[];
  /** States of the vehicle that are on, and what was drained and is not filled. */
  readonly on: readonly {
    readonly task: string;
    readonly label: string;
    readonly drained: Readonly<Record<string, string>>;
  }[];
  readonly things: readonly { readonly item: string; readonly count: number; readonly at?: string }[];
  readonly tools: readonly { readonly tool: string; readonly count: number; readonly by: readonly string[] }[];
  readonly claims: readonly { readonly place: string; readonly people: readonly string[] }[];
  readonly findings: readonly Finding[];
  readonly contradictions: readonly Contradiction[];
  readonly next: readonly StepStanding[];
  /** Handed over and not yet taken. */
  readonly handing?: { readonly from: string; readonly to: string; readonly at: number };
}

const HALF: readonly JointState[] = ["loosened", "in place", "torqued", "locked", "marked"];

export const shiftPage = (ledger: Ledger): ShiftPage => {
  const { brief } = ledger;
  const names = new Names(brief);
  const progress = progressOf(ledger);
  const looked = new Set(brief.looks.flatMap(({ verify }) => verify));
  const cut = new Set(brief.lifts.flatMap((lift) => lift.cut));
  const joints = brief.joints.flatMap((joint) => {
    const standing = ledger.joint(joint.id);
    const { state, last } = standing;
    if (last === undefined) return [];
    const own: ShiftJoint = {
      id: joint.id,
      label: joint.label,
      state,
      ...(joint.position === undefined ? {} : { where: joint.position }),
      by: names.people(standing.hands),
      at: last.at,
    };
    return [{ own, joint, standing }];
  });
  const waits = ({ own, joint }: (typeof joints)[number]) =>
    (own.state === "released" && cut.has(joint.id)) || (own.state === "refitted" && looked.has(joint.id));
  const handed = ledger.list("shift", "handing over", "taken over").at(-1);
  const percent = (part: number) => (progress.planned === 0 ? 0 : Math.round((100 * part) / progress.planned));
  return {
    at: ledger.all().at(-1)?.at ?? 0,
    percentApart: percent(progress.apart),
    percentBack: percent(progress.back),
    snug: joints.filter(({ own }) => own.state === "snug").map(({ own }) => own),
    half: joints.filter(({ own }) => HALF.includes(own.state)).map(({ own }) => own),
    toVerify: joints
      .filter(waits)
      .map(({ own, joint, standing }) => ({
        ...own,
        hidden: joint.hidden,
        who: brief.people.filter(({ id }) => !standing.hands.has(id)).map((one) => one.label),
      }))
      .sort((a, b) => Number(b.hidden) - Number(a.hidden)),
    lying: brief.parts.flatMap(({ id, label: called }) => {
      const { away } = ledger.part(id);
      if (away === undefined) return [];
      const where = away.how === "set aside" ? away.place : `hung on ${names.label(away.to)}`;
      return [{ part: id, label: called, where }];
    }),
    off: brief.energies.flatMap(({ energy }) => {
      const { off } = ledger.energy(energy);
      return off === undefined ? [] : [{ energy, key: names.person(off.key) }];
    }),
    on: brief.tasks
      .filter(({ id, toggles, drains }) => ledger.task(id).state === "done" && (toggles || drains.length > 0))
      .map(({ id, label: called }) => ({ task: id, label: called, drained: ledger.task(id).drained })),
    things: ledger
      .things()
      .filter(({ there }) => there > 0)
      .map(({ item, there, at }) => ({ item, count: there, ...(at === undefined ? {} : { at }) })),
    tools: ledger
      .tools()
      .filter(({ there }) => there > 0)
      .map(({ item, there, by }) => ({ tool: item, count: there, by: names.people(by) })),
    claims: ledger
      .claims()
      .map(({ place, people }) => ({ place: names.label(place), people: names.people(people.keys()) })),
    findings: ledger.findings().filter(({ state }) => state === "open"),
    contradictions: ledger.contradictions(),
    next: progress.next,
    ...(handed?.body.kind === "handing over"
      ? { handing: { from: names.person(handed.author), to: names.person(handed.body.to), at: handed.at } }
      : {}),
  };
};
