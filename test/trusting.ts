// Owns a shop over HTTPS at the machine's own address for tests, and browsers that trust its authority, or do not: as tablets have it.
import { execFileSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { networkInterfaces } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { type Browser, chromium } from "playwright-core";
import { type Authority, loadAuthority, type Serving } from "../src/server/index.ts";
import { findProgram } from "./screens.ts";
import { serveShop } from "./serving.ts";

/** The browser and what keeps its trusted authorities, of the machine's own packages. */
const [browserPath, certutil] = [findProgram("chromium"), findProgram("certutil")];
const own = Object.values(networkInterfaces())
  .flatMap((list) => list ?? [])
  .find(({ internal, family }) => !internal && family === "IPv4")?.address;

export const canTrust = browserPath !== undefined && certutil !== undefined && own !== undefined;
export const WHY_NOT = "chromium and, of libnss3-tools, certutil must be installed";

export interface SafeShop {
  readonly origin: string;
  readonly authority: Authority;
  serving: Serving;
  /** Stops the server as a pulled plug would not: what is under way is answered. */
  stop(): Promise<void>;
  /** Starts it again on the same port. @param screens where they are, if elsewhere than before */
  restart(screens?: URL): Promise<void>;
}

/** @param bundle the built command line's `unmoor.js`, with the screens beside it */
export async function openSafeShop(bundle: string, folder: string): Promise<SafeShop> {
  const { localAuthority, namesOfMachine } = await loadAuthority();
  const authority = await localAuthority(join(folder, "tls"), namesOfMachine(), Date.now());
  const built = dirname(bundle);
  let screens = pathToFileURL(`${join(built, "web")}/`);
  const serve = (port: number) =>
    serveShop(pathToFileURL(join(built, "question-thread.js")), {
      shop: join(folder, "shop.db"),
      host: "0.0.0.0",
      port,
      certificate: authority,
      screens,
    });
  const serving = await serve(0);
  const { port } = serving;
  const shop: SafeShop = {
    origin: `https://${own}:${port}`,
    authority,
    serving,
    stop: () => shop.serving.stop(),
    async restart(elsewhere) {
      if (elsewhere !== undefined) screens = elsewhere;
      shop.serving = await serve(port);
    },
  };
  return shop;
}

/** A browser of a fresh home, which trusts the shop's authority or does not. */
export function openBrowser(
  home: string,
  { authority }: Authority,
  trusts: boolean,
  flags: readonly string[] = [],
): Promise<Browser> {
  const keys = join(home, ".pki", "nssdb");
  mkdirSync(keys, { recursive: true });
  const file = join(home, "authority.crt");
  writeFileSync(file, authority);
  execFileSync(certutil ?? "", ["-d", `sql:${keys}`, "-N", "--empty-password"]);
  if (trusts) execFileSync(certutil ?? "", ["-d", `sql:${keys}`, "-A", "-t", "C,,", "-n", "shop", "-i", file]);
  return chromium.launch({
    executablePath: browserPath ?? "",
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      ...flags,
    ],
    env: { ...process.env, HOME: home },
  });
}
