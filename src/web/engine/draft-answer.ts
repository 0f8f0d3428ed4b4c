// Owns the answer to a narration or a table: the draft of a vehicle file, what it was told by, and what was not said; or why there is none.

import { type Column, draftVehicle, type Heard, type Refusal, type Remark, remarksNow } from "../../draft/index.ts";
import type { Answers } from "./thread.ts";

export interface DraftAsked {
  /** What the vehicle is called. */
  readonly name: string;
  /** Names of a sheet's columns and what they are. */
  readonly columns?: Readonly<Record<string, Column>>;
}

export interface DraftSaid {
  readonly refused: readonly Refusal[];
  readonly made?: {
    readonly text: string;
    /** Of each file that was given: what it is. */
    readonly kinds: readonly { readonly file: string; readonly kind: string }[];
    readonly remarks: readonly Remark[];
    /** What the remarks are thought anew of; absent of a table. */
    readonly heard?: Heard;
  };
}

export interface RemarksAsked {
  readonly heard: readonly Heard[];
}

/** What is not said of a draft by now: the file that is asked about, with what was told. */
export const remarksOf: Answers["remarks"] = async (bench, { heard }) => {
  const { vehicle } = await bench.read();
  return vehicle === undefined ? [] : remarksNow(bench.files[0]?.text ?? "", vehicle, heard);
};

/** The files that are asked about are the narration. */
export const draftOf: Answers["draft"] = ({ files }, { name, columns = {} }) => {
  const draft = draftVehicle(
    files.map(({ path, text }) => ({ file: path, text })),
    { name, columns: new Map(Object.entries(columns)) },
  );
  if (!("yaml" in draft)) return { refused: draft };
  return {
    refused: [],
    made: {
      text: draft.yaml,
      kinds: draft.kinds.map(({ file, kind }) => ({ file, kind })),
      remarks: draft.remarks,
      ...(draft.heard === undefined ? {} : { heard: draft.heard }),
    },
  };
};
