// Owns the name of a question: the SHA-256 of its content, so that the same question has one answer, whoever asks it.

import { hashOf, writeCanonical } from "../../ledger/index.ts";
import type { Wanted } from "./body.ts";

/** Raised whenever the same question may be answered otherwise than by the version before: an answer is kept for good. */
const ANSWERS = "unmoor/answers/2";

/** @param model the digest of the vehicle's files */
export const nameOf = ({ kind, body }: Wanted, model: string): string =>
  hashOf(writeCanonical({ answers: ANSWERS, kind, model, body }));

/** What is quick is taken before what is long: nobody waits for a plan behind an hour's search. */
export const rankOf = ({ kind }: Wanted): number => (["check", "model", "release", "plan"].includes(kind) ? 0 : 1);
