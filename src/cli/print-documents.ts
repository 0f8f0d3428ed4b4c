// Owns the shape of what print writes with --json. The JSON Schema in schema/ is made from here (npm run schema).

import { z } from "zod";
import { SHEETS } from "../paper/index.ts";
import type { Frozen } from "../server/index.ts";

export const printDocument = z
  .strictObject({
    format: z.literal("unmoor/printed/1"),
    title: z.string(),
    head: z.array(z.string()).describe("What stands on every page."),
    files: z.array(z.string()).describe("That were written."),
    sheets: z.array(z.strictObject({ kind: z.enum(SHEETS), title: z.string() })),
    tags: z
      .array(z.strictObject({ code: z.string(), half: z.string().optional(), name: z.string(), address: z.string() }))
      .describe("Tags and, without a half, bag labels, in their order."),
  })
  .describe("unmoor print --json");
export type PrintDocument = Frozen<z.infer<typeof printDocument>>;
