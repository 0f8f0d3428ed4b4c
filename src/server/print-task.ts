// Owns what the printing thread is given and what it gives back.

import type { Brief, Entry } from "../ledger/index.ts";
import type { Lang, Paper, SheetKind } from "../paper/index.ts";
import type { Plan } from "../plan/index.ts";
import type { ModelFile } from "../store/index.ts";
import type { OrderBody } from "./order.ts";

export interface PrintTask {
  /** The vehicle's files, the main one first. */
  readonly files: readonly ModelFile[];
  readonly plan: Plan;
  readonly order: string;
  /** It has a run, whose pages the tags lead to. */
  readonly isRun: boolean;
  /** Of the vehicle in the store. */
  readonly version: number;
  readonly lang: Lang;
  readonly paper: Paper;
  /** The web app's address. */
  readonly origin: string;
  /** The PDF, or the same content as a web page. */
  readonly form: "pdf" | "html";
  /** Only these sheets. */
  readonly only?: readonly SheetKind[];
  /** Only the card of this person: of a run under way what is left, else by the schedule of the order's crew. */
  readonly forPerson?: {
    readonly id: string;
    readonly body: OrderBody;
    readonly run?: { readonly brief: Brief; readonly entries: readonly Entry[]; readonly opened: number };
  };
  /** Milliseconds since 1970. */
  readonly made: number;
}

/** The PDF or the page, or why there is none. */
export type Printed =
  | { readonly pdf: Uint8Array<ArrayBuffer> }
  | { readonly html: string }
  | { readonly faults: readonly { readonly what: string; readonly mend: string }[] };
