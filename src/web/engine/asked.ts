// Owns what the engine may be asked and what it says: one entry for each kind, plain data both ways, for it crosses to a thread and back.

import type { Remark } from "../../draft/index.ts";
import type { Order, OrderFault, Plan, WhileOut } from "../../plan/index.ts";
import type { Alternative, EdgePart, Status } from "../../release/index.ts";
import type { Fault, Gap, Place, Vehicle } from "../../vehicle/index.ts";
import type { CrewAsked, CrewSaid, CurveAsked, CurveSaid } from "./crews.ts";
import type { DraftAsked, DraftSaid, RemarksAsked } from "./draft-answer.ts";
import type { LiftAsked, LiftSaid, ReadingGiven, TrialSaid } from "./lifts.ts";
import type { RestAsked, RestSaid } from "./rest.ts";
import type { StakesSaid } from "./stakes-answer.ts";
import type {
  FiguresAsked,
  FiguresSaid,
  FinishAsked,
  FinishSaid,
  ImproveAsked,
  ImproveSaid,
  LearnAsked,
  LearnSaid,
  WaysAsked,
  WaysSaid,
  WhenAsked,
  WhenSaid,
} from "./times-asked.ts";

/** The files of a model, the main one first. */
export interface ModelFile {
  readonly path: string;
  readonly text: string;
}
export type Files = readonly ModelFile[];

export interface ReadSaid {
  /** Present where there is no fault. */
  readonly vehicle?: Vehicle;
  readonly faults: readonly Fault[];
  readonly warnings: readonly Fault[];
  /** Where each id stands. */
  readonly places: Readonly<Record<string, Place>>;
  /** Figures that are still to be asked. */
  readonly gaps: readonly Gap[];
}

/** Why an order has no plan, as far as it was found out. */
export interface NoPlan {
  readonly status: Status;
  /** Needs of the order or the file that cannot hold together, in words. */
  readonly because: readonly string[];
  readonly bound: number | null;
}

export interface ReleaseSaid {
  /** What is wrong with the order itself: then nothing was asked. */
  readonly faults: readonly OrderFault[];
  readonly plan?: Plan;
  readonly none?: NoPlan;
  /** Milliseconds of the search and the replays. */
  readonly ms: number;
  /** By id of the connection or task: person-minutes of its release and refit. */
  readonly labour: Readonly<Record<string, number>>;
}

export type Otherwise = Omit<Alternative, "bound"> & { readonly bound: number | null };

export interface WhySaid {
  /** From the asked step to what is wanted: what each is made for, in words. */
  readonly chain: readonly { readonly step: string; readonly label: string; readonly says: string }[];
  /** The plan without it. */
  readonly without?: Otherwise;
  /** The plan with it made another way. */
  readonly ways: readonly { readonly way: string; readonly position: string; readonly then: Otherwise }[];
}

export interface AskedOf {
  readonly read: Record<never, never>;
  readonly stakes: Record<never, never>;
  readonly release: { readonly order: Order };
  readonly why: { readonly order: Order; readonly about: string };
  readonly others: { readonly order: Order };
  readonly edge: { readonly order: Order };
  readonly crew: CrewAsked;
  readonly curve: CurveAsked;
  readonly rest: RestAsked;
  readonly lift: LiftAsked;
  readonly trial: LiftAsked & { readonly readings: readonly ReadingGiven[] };
  readonly finish: FinishAsked;
  readonly when: WhenAsked;
  readonly improve: ImproveAsked;
  readonly ways: WaysAsked;
  readonly figures: FiguresAsked;
  readonly learn: LearnAsked;
  readonly draft: DraftAsked;
  readonly remarks: RemarksAsked;
}

export interface SaidOf {
  readonly read: ReadSaid;
  readonly stakes: StakesSaid;
  readonly release: ReleaseSaid;
  readonly why: WhySaid;
  readonly others: readonly WhileOut[];
  readonly edge: readonly EdgePart[];
  readonly crew: CrewSaid;
  readonly curve: CurveSaid;
  readonly rest: RestSaid;
  readonly lift: LiftSaid;
  readonly trial: TrialSaid;
  readonly finish: FinishSaid;
  readonly when: WhenSaid;
  readonly improve: ImproveSaid;
  readonly ways: WaysSaid;
  readonly figures: FiguresSaid;
  readonly learn: LearnSaid;
  readonly draft: DraftSaid;
  readonly remarks: readonly Remark[];
}

export type Kind = keyof AskedOf;

/** What the page sends to a thread; a model's files go once, by a number of their own. */
export type ToThread =
  | { readonly is: "model"; readonly model: number; readonly files: Files }
  | { readonly is: "ask"; readonly id: number; readonly model: number; readonly kind: Kind; readonly body: unknown };

/** What a thread sends back. */
export type FromThread =
  | { readonly is: "progress"; readonly id: number; readonly said: unknown }
  | { readonly is: "said"; readonly id: number; readonly said: unknown }
  | { readonly is: "failed"; readonly id: number; readonly why: string };
