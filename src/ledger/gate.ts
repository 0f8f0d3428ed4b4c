// Owns what a gate answers: open, or what is missing, where, and who could do it; and what all gates share.

import type { Role, Where } from "./brief.ts";
import type { Ledger } from "./ledger.ts";
import { Names } from "./names.ts";
import { type Phrase, sayPhrase } from "./phrase.ts";
import type { Contradiction } from "./rules.ts";

export const GATES = ["isolation", "lift", "start-up", "hand-over"] as const;
export type GateName = (typeof GATES)[number];

/** What can be missing, by gate: I isolation, L lift, S start-up, H hand-over. */
export const GATE_RULES = {
  I1: "what must come first is not done",
  I2: "an energy is not shut off",
  L1: "it ties the load and is not released",
  L2: "released, and nobody else has looked",
  L3: "a chain of connections still ties the load",
  L4: "an open finding touches it",
  L5: "the rigging is not approved",
  L6: "the approval waits for the store",
  L7: "somebody is under the load",
  L8: "no trial lift, or its reading is outside the band",
  L9: "a contradiction touches it",
  L10: "a task before the lift is not done, or a state is not as it must be",
  S1: "taken apart and not made again",
  S2: "snug only",
  S3: "its torque is not recorded",
  S4: "its torque is outside the tolerance",
  S5: "its torque is a proposal: nobody gave it",
  S6: "the second person's torque is missing",
  S7: "not locked",
  S8: "hardware counted in is not what was counted out",
  S9: "a temporary thing is still in",
  S10: "a fluid is not filled",
  S11: "a last look is missing",
  S12: "what comes last is not last",
  S13: "an energy is still off",
  S14: "a tool is still at the vehicle",
  S15: "a part is not where it belongs",
  S16: "a contradiction is not settled",
  S17: "an open finding touches it",
  S18: "a state of the vehicle is still on",
  H1: "the start-up gate is not passed",
  H2: "not done",
  H3: "not passed",
  H4: "a finding is neither closed nor handed over in writing",
  H5: "a gate was passed while something was missing",
} as const;
export type GateRule = keyof typeof GATE_RULES;

export interface Missing {
  readonly rule: GateRule;
  /** What it is about: an id of the vehicle file, an energy, a thing, an entry. */
  readonly about: string;
  readonly label: string;
  /** The figures and circumstances, as a sentence without its stop. */
  readonly what: string;
  /** The same as data. */
  readonly phrase: Phrase;
  readonly where?: Where;
  /** Who could do it, by label; empty: anybody. */
  readonly who: readonly string[];
}

export interface GateAnswer {
  readonly gate: GateName;
  /** Of the lift gate which lift. */
  readonly lift?: string;
  readonly open: boolean;
  /** Open as far as this device has seen; the store that sees everything decides. */
  readonly provisional: boolean;
  readonly missing: readonly Missing[];
  /** What it has looked at, in words with figures. */
  readonly looked: readonly string[];
  /** The same as data. */
  readonly phrases: readonly Phrase[];
}

export interface GateAsked {
  /** Whether this is the store that sees everything. */
  readonly decides: boolean;
}

/** What a gate gathers as it looks. */
export class Gathering {
  readonly ledger: Ledger;
  readonly missing: Missing[] = [];
  private readonly names: Names;
  /** Open contradictions by what they are about. */
  readonly troubles: readonly Contradiction[];

  constructor(ledger: Ledger) {
    this.ledger = ledger;
    this.names = new Names(ledger.brief);
    this.troubles = ledger.contradictions();
  }

  label(id: string): string {
    return this.names.label(id);
  }

  person(id: string): string {
    return this.names.person(id);
  }

  add(
    rule: GateRule,
    about: string,
    phrase: Phrase,
    more: { readonly where?: Where | undefined; readonly who?: readonly string[] } = {},
  ): void {
    const { where, who = [] } = more;
    const what = sayPhrase(phrase);
    const place = where === undefined ? {} : { where };
    this.missing.push({ rule, about, label: this.label(about), what, phrase, ...place, who });
  }

  /** Who of the crew has the skill, and is none of these; empty where anybody will do. */
  able(skill: string | undefined, but: ReadonlySet<string> = new Set()): readonly string[] {
    const { people } = this.ledger.brief;
    const able = people.filter((one) => !but.has(one.id) && (skill === undefined || one.skills.includes(skill)));
    return able.length === people.length ? [] : able.map((one) => one.label);
  }

  with(role: Role): readonly string[] {
    return this.names.with(role);
  }

  answer(gate: GateName, { decides }: GateAsked, phrases: readonly Phrase[], lift?: string): GateAnswer {
    const open = this.missing.length === 0;
    return {
      gate,
      ...(lift === undefined ? {} : { lift }),
      open,
      provisional: open && !decides,
      missing: this.missing,
      looked: phrases.map((one) => sayPhrase(one)),
      phrases,
    };
  }
}
