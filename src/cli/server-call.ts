// Owns one call to a server: the token of whoever signed in, the authority that the server is trusted by, and what is said when it refuses.

import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { request as plainRequest } from "node:http";
import { request as safeRequest } from "node:https";
import { homedir } from "node:os";
import { dirname, join } from "node:path";
import { StoreFault } from "../store/index.ts";

/** What this user keeps of a server. */
export interface Pass {
  readonly person: string;
  readonly token: string;
  /** PEM, where the server has an authority of its own. */
  readonly authority?: string;
}

/** An answer, whatever its status. */
export interface Reply {
  readonly status: number;
  readonly body: unknown;
  /** Its ETag. */
  readonly tag?: string | undefined;
}

const PATIENCE = 120_000;

export const isServer = (address: string): boolean => /^https?:\/\//.test(address);

/** Where the passes are: readable by their owner alone. */
const passPath = (): string =>
  process.env.UNMOOR_PASSES ?? join(process.env.XDG_CONFIG_HOME ?? join(homedir(), ".config"), "unmoor", "passes.json");

const readPasses = (): Record<string, Pass> => {
  try {
    return JSON.parse(readFileSync(passPath(), "utf8")) as Record<string, Pass>;
  } catch {
    return {};
  }
};

const originOf = (address: string): string => new URL(address).origin;

export const passFor = (address: string): Pass | undefined => readPasses()[originOf(address)];

export const keepPass = (address: string, pass: Pass | undefined): string => {
  const path = passPath();
  const { [originOf(address)]: _, ...others } = readPasses();
  const passes = pass === undefined ? others : { ...others, [originOf(address)]: pass };
  try {
    mkdirSync(dirname(path), { recursive: true, mode: 0o700 });
    writeFileSync(path, `${JSON.stringify(passes, undefined, 2)}\n`, { mode: 0o600 });
    return path;
  } catch (error) {
    throw unkept(path, error);
  }
};

const unkept = (path: string, error: unknown): StoreFault =>
  new StoreFault(
    "read-only",
    path,
    `who is signed in cannot be kept there (${error instanceof Error ? error.message : error})`,
    "See the folder, or name another file by UNMOOR_PASSES.",
    error,
  );

/** Asks a server. @throws StoreFault "gone" where it cannot be reached or is not trusted */
export const ask = (
  address: string,
  method: string,
  path: string,
  body: unknown,
  pass?: Partial<Pass>,
  headers: Readonly<Record<string, string>> = {},
): Promise<Reply> =>
  new Promise((resolve, reject) => {
    const url = new URL(`/api${path}`, address);
    const bytes =
      body instanceof Uint8Array ? body : body === undefined ? undefined : Buffer.from(JSON.stringify(body));
    const fail = (error: NodeJS.ErrnoException) => reject(unreachable(url.origin, error));
    const request = (url.protocol === "https:" ? safeRequest : plainRequest)(
      url,
      {
        method,
        timeout: PATIENCE,
        ...(pass?.authority === undefined ? {} : { ca: pass.authority }),
        headers: {
          accept: "application/json",
          ...(bytes === undefined ? {} : { "content-type": "application/json", "content-length": bytes.length }),
          ...(pass?.token === undefined ? {} : { authorization: `Bearer ${pass.token}` }),
          ...headers,
        },
      },
      (response) => {
        const parts: Buffer[] = [];
        response.on("data", (part: Buffer) => parts.push(part));
        response.on("error", fail);
        response.on("end", () => {
          const text = Buffer.concat(parts).toString("utf8");
          try {
            const body: unknown = text === "" ? undefined : JSON.parse(text);
            resolve({ status: response.statusCode ?? 0, body, tag: response.headers.etag });
          } catch {
            fail(Object.assign(new Error("it does not answer as Unmoor does"), { code: "OTHER" }));
          }
        });
      },
    );
    request.on("timeout", () => request.destroy(new Error(`no answer in ${PATIENCE / 1000} s`)));
    request.on("error", fail);
    request.end(bytes);
  });

const unreachable = (origin: string, error: NodeJS.ErrnoException): StoreFault => {
  const code = String(error.code ?? "");
  if (/CERT|SIGNATURE|SELF_SIGNED|ALTNAME/.test(code))
    return new StoreFault(
      "gone",
      origin,
      `its certificate is not trusted here (${error.message})`,
      `Take its authority from the server's page and sign in with it: unmoor sign-in ${origin} --by WHO --authority FILE.`,
      error,
    );
  const mend = code === "OTHER" ? "See the address." : "See that unmoor serve runs there, the address and the network.";
  return new StoreFault("gone", origin, `it cannot be reached (${error.message})`, mend, error);
};

/** A refusal of the server as a fault to be said. */
export const faultOf = (origin: string, { status, body }: Reply): StoreFault => {
  const { title, mend } = (body ?? {}) as { readonly title?: string; readonly mend?: string };
  if (status === 401)
    return new StoreFault("gone", origin, "nobody is signed in", `Sign in: unmoor sign-in ${origin} --by WHO.`);
  return new StoreFault("gone", origin, title ?? `it answers ${status}`, mend ?? "See the server's log.");
};
