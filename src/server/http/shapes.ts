// Owns the shapes that all routes share: ids, moments, pages, refusals, and the answers that any route may give.

import { z } from "@hono/zod-openapi";

/** An id in an address: nothing that a path, a log or a terminal could read as something else. */
export const idShape = z
  .string()
  .regex(/^[A-Za-z0-9][A-Za-z0-9._-]{0,79}$/, "1 to 80 letters, digits, . _ -, the first a letter or digit");

export const digestShape = z.string().regex(/^[0-9a-f]{64}$/, "a SHA-256 in 64 small hexadecimal digits");

export const momentShape = z.int().describe("Milliseconds since 1970, UTC.");

/** Where a list goes on, and how much of it is wanted. */
export const pageShape = z.object({
  after: z.string().max(200).optional().describe("`next` of the page before."),
  limit: z.coerce.number().int().min(1).max(200).default(50),
});

const problemShape = z
  .looseObject({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    mend: z.string().describe("What would mend it."),
  })
  .openapi("Problem", { description: "A refusal, after RFC 9457." });

const problem = (description: string) => ({
  description,
  content: { "application/problem+json": { schema: problemShape } },
});

/** What any route may answer instead. */
export const refusals = {
  400: problem("What was sent is not as described; every fault is named."),
  401: problem("Nobody is signed in."),
  403: problem("Not allowed to this person."),
  404: problem("It is not kept here."),
  409: problem("It contradicts what is kept, or a gate is shut."),
  412: problem("Somebody else changed it since it was read."),
  413: problem("Too large."),
  415: problem("Of a type that is not taken here."),
  429: problem("Too often; `retry-after` says when."),
  503: problem("For the moment not; `retry-after` says when."),
  507: problem("No space left."),
} as const;

/** A JSON answer. Documents are read-only where the schema's type is not, so the compiler is told less than the description; tests hold the one to the other. */
export const answer = (schema: z.ZodType, description: string) => ({
  description,
  content: { "application/json": { schema } },
});

/** An answer that goes on: server-sent events. */
export const streamOf = (description: string) => ({
  description,
  content: { "text/event-stream": { schema: z.string() } },
});

/** A JSON body that must be there. */
export const body = <T extends z.ZodType>(schema: T) => ({
  body: { required: true, content: { "application/json": { schema } } },
});

/** The number in an `If-Match` that this server gave as `ETag`; 0 for `If-None-Match: *`, undefined where neither is there. */
export const revisionAsked = (headers: { header(name: string): string | undefined }): number | undefined => {
  if (headers.header("if-none-match") === "*") return 0;
  const tag = /^"r(\d{1,9})"$/.exec(headers.header("if-match") ?? "");
  return tag === null ? undefined : Number(tag[1]);
};

export const revisionTag = (revision: number): string => `"r${revision}"`;
