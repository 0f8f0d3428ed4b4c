// Owns requests made from the server's own description: as described, nearly so, and not at all so.
import { v7 } from "uuid";
import { chanceOf } from "../../test/run.ts";
import type { Client } from "../../test/serving.ts";

type Schema = Readonly<Record<string, unknown>>;

export interface FuzzRow {
  readonly requests: number;
  readonly statuses: Readonly<Record<string, number>>;
  /** Requests answered by a fault of the server, or not within ten seconds. */
  readonly wrong: readonly string[];
  /** Resident megabytes of the server after each quarter. */
  readonly memory: readonly number[];
}

const ODD: readonly unknown[] = [
  null,
  true,
  -1,
  0,
  1e308,
  2 ** 53,
  "",
  "x".repeat(5000),
  "\u0000",
  "<script>alert(1)</script>",
  "../../etc/passwd",
  "'; drop table entries; --",
  "\u{1F527}\u202E\uD800",
  [],
  {},
  [[[[[[[[[[]]]]]]]]]],
  { __proto__: { steward: true } },
  { constructor: { prototype: { steward: true } } },
];

/** Values that mean something here, for what asks for an id. */
const IDS = [
  "pump-1",
  "bench-pump",
  "main",
  "emil",
  "frida",
  "nobody",
  "shaft-seal",
  "coupling",
  "hoist",
  "a".repeat(80),
];
/** What is there, by the name of what asks for it. */
const THERE: Readonly<Record<string, string>> = {
  run: "pump-1",
  order: "pump-1",
  vehicle: "bench-pump",
  id: "emil",
  site: "main",
};
const DIGEST = "0".repeat(64);

export class Fuzzer {
  private readonly chance: () => number;
  private readonly sample: readonly string[];
  private readonly description: {
    readonly paths: Readonly<Record<string, Readonly<Record<string, Schema>>>>;
    readonly components?: Schema;
  };

  /** @param sample a vehicle file, for what takes one */
  constructor(description: unknown, sample: string, seed: number) {
    this.sample = sample.split("\n");
    this.description = description as Fuzzer["description"];
    this.chance = chanceOf(seed);
  }

  /** @param memory of the server now @param other a client whose session may end */
  async run(requests: number, memory: () => number, client: Client, other: Client): Promise<FuzzRow> {
    // Streams have no end to wait for.
    const answered = Object.entries(this.description.paths).filter(([path]) => !path.endsWith("/live"));
    const operations = answered.flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, operation]) => ({ path, method: method.toUpperCase(), operation })),
    );
    const statuses: Record<string, number> = {};
    const wrong: string[] = [];
    const quarters: number[] = [];
    for (let i = 0; i < requests; i++) {
      const { path, method, operation } = this.pick(operations);
      const asked = this.request(path, operation);
      const said = `${method} ${asked.path} ${String(JSON.stringify(asked.body)).slice(0, 300)}`;
      const reply = await Promise.race([
        (path.startsWith("/sign-out") ? other : client)
          .ask(method, asked.path, asked.body, asked.headers)
          .catch((error: unknown) => ({ status: 0, body: String(error) })),
        new Promise<{ status: number; body: string }>((late) =>
          setTimeout(late, 10_000, { status: -1, body: "no answer" }).unref(),
        ),
      ]);
      const kind = reply.status > 0 ? `${Math.floor(reply.status / 100)}xx` : "none";
      statuses[kind] = (statuses[kind] ?? 0) + 1;
      // 503 and 507 say what is for the moment not to be had; nothing here takes anything away.
      if (reply.status >= 500 || reply.status <= 0)
        wrong.push(`${reply.status} ${said} -> ${JSON.stringify(reply.body).slice(0, 300)}`);
      if ((i + 1) % Math.ceil(requests / 4) === 0 || i + 1 === requests) quarters.push(Math.round(memory()));
    }
    return { requests, statuses, wrong, memory: quarters };
  }

  private request(path: string, operation: Schema) {
    const headers: Record<string, string> = {};
    const query: string[] = [];
    let filled = path;
    for (const parameter of (operation.parameters ?? []) as readonly Schema[]) {
      const name = String(parameter.name);
      const there = this.chance() < 0.6 ? THERE[name] : undefined;
      const value = there ?? this.text(this.maybeOdd(parameter.schema as Schema, 0.05));
      if (parameter.in === "path") filled = filled.replace(`{${name}}`, encodeURIComponent(value) || "x");
      else if (parameter.in === "query" && this.chance() < 0.6) query.push(`${name}=${encodeURIComponent(value)}`);
      // What no header can hold is no request.
      else if (parameter.in === "header" && this.chance() < 0.6)
        headers[name] = value.replace(/[^\x20-\x7e]/g, "").slice(0, 200);
    }
    const whole = query.length === 0 ? filled : `${filled}?${query.join("&")}`;
    const content = (
      operation.requestBody as { readonly content?: Readonly<Record<string, { readonly schema: Schema }>> } | undefined
    )?.content;
    if (content === undefined) return { path: whole, body: this.chance() < 0.05 ? { odd: 1 } : undefined, headers };
    const [type = "application/json", { schema } = { schema: {} }] = this.pick(Object.entries(content));
    const made = this.maybeOdd(schema, 0.03);
    const draw = this.chance();
    if (draw < 0.04) return { path: whole, body: '{"half', headers };
    if (draw < 0.08)
      return { path: whole, body: JSON.stringify(made), headers: { ...headers, "content-type": "text/plain" } };
    if (!type.includes("json"))
      return { path: whole, body: Buffer.from(this.text(made)), headers: { ...headers, "content-type": type } };
    return { path: whole, body: made, headers };
  }

  private text(value: unknown): string {
    const text = typeof value === "string" ? value : String(JSON.stringify(value));
    // Half of a pair is no text that an address could hold.
    return text.replace(/\p{Surrogate}/gu, "\uFFFD");
  }

  private maybeOdd(schema: Schema, share: number): unknown {
    return this.chance() < share ? this.pick(ODD) : this.make(schema, 0);
  }

  private make(given: Schema, depth: number): unknown {
    const schema = this.resolve(given);
    if (this.chance() < 0.008) return this.pick(ODD);
    if ("const" in schema) return schema.const;
    if (Array.isArray(schema.enum)) return this.pick(schema.enum);
    for (const key of ["oneOf", "anyOf"] as const)
      if (Array.isArray(schema[key])) return this.make(this.pick(schema[key] as Schema[]), depth + 1);
    if (Array.isArray(schema.allOf))
      return Object.assign({}, ...(schema.allOf as Schema[]).map((one) => this.make(one, depth + 1)));
    const type = Array.isArray(schema.type) ? this.pick(schema.type) : schema.type;
    switch (type) {
      case "string":
        return this.string(schema);
      case "integer":
      case "number": {
        const least = Number(schema.minimum ?? 0);
        const most = Math.min(Number(schema.maximum ?? 100), least + 100);
        const number = least + this.chance() * (most - least);
        return type === "integer" ? Math.round(number) : number;
      }
      case "null":
        return null;
      case "boolean":
        return this.chance() < 0.5;
      case "array":
        return Array.from({ length: Math.max(Number(schema.minItems ?? 0), Math.floor(this.chance() * 3)) }, () =>
          this.make((schema.items ?? {}) as Schema, depth + 1),
        );
      default:
        return this.object(schema, depth);
    }
  }

  private object(schema: Schema, depth: number): unknown {
    if (depth > 8) return {};
    const made: Record<string, unknown> = {};
    const required = (schema.required ?? []) as readonly string[];
    for (const [name, one] of Object.entries((schema.properties ?? {}) as Record<string, Schema>))
      if (this.chance() < (required.includes(name) ? 0.99 : 0.3)) made[name] = this.make(one, depth + 1);
    const rest = schema.additionalProperties;
    if (typeof rest === "object" && rest !== null) made[this.pick(IDS)] = this.make(rest as Schema, depth + 1);
    if (this.chance() < 0.01) made[this.pick(["__proto__", "constructor", "extra"])] = this.pick(ODD);
    return made;
  }

  private string({ pattern, maxLength, description }: Schema): string {
    if (Number(maxLength) > 1_000_000) return this.mutate();
    if (/UUID of version 7/.test(String(description)))
      return v7({
        msecs: 1_790_000_000_000,
        random: Uint8Array.from({ length: 16 }, () => Math.floor(this.chance() * 256)),
      });
    if (typeof pattern === "string" && /\{64\}/.test(pattern))
      return this.chance() < 0.5
        ? DIGEST
        : Array.from(DIGEST, () => Math.floor(this.chance() * 16).toString(16)).join("");
    const draw = this.chance();
    if (draw < 0.8 || (typeof pattern === "string" && draw < 0.95)) return this.pick(IDS);
    if (draw < 0.86) return `new-${Math.floor(this.chance() * 1000)}`;
    if (draw < 0.9) return "12 N·m";
    return this.text(this.pick(ODD)).slice(0, Math.min(Number(maxLength ?? 2000) + 1, 6000));
  }

  /** A vehicle file with some lines gone, twice there, or not as they were; as it was now and then. */
  private mutate(): string {
    const lines = [...this.sample];
    for (let changes = Math.floor(this.chance() * 4); changes > 0; changes--) {
      const at = Math.floor(this.chance() * lines.length);
      const line = lines[at] ?? "";
      const made = [
        [],
        [line, line],
        [line.slice(0, Math.floor(this.chance() * line.length))],
        [`${line} &a *a [{`],
        [`  ${line}`],
      ];
      lines.splice(at, 1, ...this.pick(made));
    }
    return lines.join("\n");
  }

  private resolve(schema: Schema): Schema {
    if (typeof schema.$ref !== "string") return schema;
    const path = schema.$ref.replace("#/", "").split("/");
    return path.reduce<unknown>((at, name) => (at as Record<string, unknown>)[name], this.description) as Schema;
  }

  private pick<T>(list: readonly T[]): T {
    return list[Math.floor(this.chance() * list.length)] as T;
  }
}
