// Owns how a question stands as it goes out: what the description says of it, and its answer letter for letter.

import type { KeptQuestion } from "../../store/index.ts";

/** Without the answer, which may be large. */
export const standingOf = (question: KeptQuestion) => {
  const { digest, kind, state, revision, at, begun, ended, progress, fault } = question;
  return {
    digest,
    kind,
    state,
    revision,
    at,
    ...(begun === undefined ? {} : { begun }),
    ...(ended === undefined ? {} : { ended }),
    ...(progress === undefined ? {} : { progress }),
    ...(fault === undefined ? {} : { fault }),
  };
};

/** With the answer, as text: to read a large one and write it again would hold up everybody else. */
export const writeStanding = (question: KeptQuestion): string => {
  const standing = JSON.stringify(standingOf(question));
  return question.answer === undefined ? standing : `${standing.slice(0, -1)},"answer":${question.answer}}`;
};
