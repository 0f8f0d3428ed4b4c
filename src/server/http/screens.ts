// Owns the giving out of the screens: one page for every address that is nobody else's, and the files that it is made of.

import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import type { Context, Hono } from "hono";
import { answerProblem, notFound, type Problem, sayProblem } from "./problem.ts";
import type { Carried } from "./who.ts";

const TYPES: Readonly<Record<string, string>> = {
  css: "text/css; charset=utf-8",
  html: "text/html; charset=utf-8",
  js: "text/javascript; charset=utf-8",
  svg: "image/svg+xml",
  txt: "text/plain; charset=utf-8",
  webmanifest: "application/manifest+json",
  woff2: "font/woff2",
  yaml: "text/yaml; charset=utf-8",
};
/** Compressed already. */
const DENSE = new Set(["woff2"]);
/** Names that change with their contents. */
const LASTING = /-[A-Z0-9]{8}\.\w+$/;
/** Addresses that programs ask at, which are never a page. */
const PROGRAMS = /^\/(api|app|health|ready|metrics)(\/|$)/;

interface Sent {
  readonly type: string;
  readonly plain: Uint8Array<ArrayBuffer>;
  readonly small?: Uint8Array<ArrayBuffer>;
}

/** Files of a folder, each read and compressed when it is first asked for, and no others: no path from outside reaches the disk. */
class Files {
  private readonly folder: string;
  private readonly names: ReadonlySet<string>;
  private readonly read = new Map<string, Sent>();

  constructor(folder: string) {
    this.folder = folder;
    this.names = new Set(
      readdirSync(folder, { recursive: true, withFileTypes: true })
        .filter((one) => one.isFile())
        .map((one) => relative(folder, join(one.parentPath, one.name)).split(sep).join("/")),
    );
  }

  get(name: string): Sent | undefined {
    if (!this.names.has(name)) return undefined;
    const kept = this.read.get(name);
    if (kept !== undefined) return kept;
    const ending = name.slice(name.lastIndexOf(".") + 1);
    const plain = new Uint8Array(readFileSync(join(this.folder, name)));
    const sent: Sent = {
      type: TYPES[ending] ?? "application/octet-stream",
      plain,
      ...(DENSE.has(ending) ? {} : { small: new Uint8Array(gzipSync(plain, { level: 9 })) }),
    };
    this.read.set(name, sent);
    return sent;
  }
}

/** Whether an address was opened in a tab, and not by a program. */
const isOpened = (c: Context): boolean => c.req.method === "GET" && /\btext\/html\b/.test(c.req.header("accept") ?? "");

/**
 * @param folder the screens as they were built; without it an address without an answer says so as programs are told
 * @returns how a refusal is answered: to who opened the address in a tab by the page, which says it in the language of the device
 */
export const screens = (app: Hono<Carried>, folder: URL | undefined): ((c: Context, why: Problem) => Response) => {
  const files = folder === undefined ? undefined : new Files(fileURLToPath(folder));
  const refuse = (c: Context, why: Problem): Response => {
    const page = isOpened(c) ? files?.get("page.html") : undefined;
    if (page === undefined) return answerProblem(c, why);
    // Data, which no browser runs; nor does anything that somebody named end it.
    const said = JSON.stringify(sayProblem(why)).replaceAll("<", "\\u003c");
    const html = Buffer.from(page.plain).toString("utf8");
    const block = `<script type="application/json" id="refused">${said}</script>`;
    return c.html(
      html.replace("</body>", () => `${block}</body>`),
      why.status,
      {
        "cache-control": "no-store",
        vary: "accept",
      },
    );
  };
  const nothing = (c: Context) => refuse(c, notFound(["nothingThere", c.req.path.slice(0, 200)], ["seeDescription"]));
  const send = (c: Context, name: string): Response => {
    const sent = files?.get(name);
    if (sent === undefined) return nothing(c);
    const { type, plain, small } = sent;
    const takes = /\bgzip\b/.test(c.req.header("accept-encoding") ?? "");
    return c.body(takes && small !== undefined ? small : plain, 200, {
      "content-type": type,
      "cache-control": LASTING.test(name) ? "public, max-age=31536000, immutable" : "no-cache",
      vary: "accept-encoding",
      ...(takes && small !== undefined ? { "content-encoding": "gzip" } : {}),
    });
  };
  app.get("/app/*", (c) => send(c, c.req.path.slice(1)));
  // At the root, for what is kept on a device is kept for every address.
  for (const name of ["sw.js", "manifest.webmanifest", "icon.svg"]) app.get(`/${name}`, (c) => send(c, name));
  app.notFound((c) =>
    (c.req.method === "GET" || c.req.method === "HEAD") && !PROGRAMS.test(c.req.path)
      ? send(c, "page.html")
      : nothing(c),
  );
  return refuse;
};
