// Owns what the printing thread is given and what it gives back.

import type { Lang, Paper } from "../paper/index.ts";
import type { Plan } from "../plan/index.ts";
import type { ModelFile } from "../store/index.ts";

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
  /** Milliseconds since 1970. */
  readonly made: number;
}

/** The PDF, or why there is none. */
export type Printed =
  | { readonly pdf: Uint8Array<ArrayBuffer> }
  | { readonly faults: readonly { readonly what: string; readonly mend: string }[] };
