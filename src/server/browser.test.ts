// The server in a real browser, over the machine's own address: what a tablet has once it trusts the shop's authority, and what another page gets.
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, inject, test } from "vitest";
import { beginRun, type Client, PASSWORD, setUp, temporaryFolder } from "../../test/serving.ts";
import { canTrust, openBrowser, openSafeShop, type SafeShop, WHY_NOT } from "../../test/trusting.ts";

const JSON_TYPE = { "content-type": "application/json" };
// What a page does is text here: its names are the browser's, not Node's.
describe.skipIf(!canTrust)(`in a browser (${WHY_NOT})`, () => {
  let folder: Awaited<ReturnType<typeof temporaryFolder>>;
  let shop: SafeShop;
  let origin: string;
  let people: Readonly<Record<string, Client>>;
  const browsers: Browser[] = [];

  beforeAll(async () => {
    folder = await temporaryFolder("browser");
    shop = await openSafeShop(inject("bundle"), folder.path);
    ({ origin } = shop);
    people = await setUp(origin, shop.serving.setupCode ?? "", shop.authority.authority);
    await beginRun(people.frida as Client, "pump-1");
  });
  afterAll(async () => {
    for (const browser of browsers) await browser.close();
    await shop.stop();
    await folder.remove();
  });

  const open = async (trusts: boolean): Promise<Page> => {
    const browser = await openBrowser(join(folder.path, trusts ? "trusting" : "doubting"), shop.authority, trusts);
    browsers.push(browser);
    return (await browser.newContext()).newPage();
  };

  test("it is not let near a server whose authority it does not trust", async () => {
    const page = await open(false);
    await expect(page.goto(origin)).rejects.toThrow(/ERR_CERT_AUTHORITY_INVALID/);
  });

  describe("that trusts the authority", () => {
    let page: Page;
    beforeAll(async () => {
      page = await open(true);
      await page.goto(origin);
    });

    test("it is in a secure context, so that it may work without the network, and no script but the server's own runs", async () => {
      expect(await page.title()).toBe("Unmoor");
      expect(await page.evaluate(`[isSecureContext, "serviceWorker" in navigator]`)).toEqual([true, true]);
      const blocked = await page.evaluate(`new Promise((resolve) => {
        document.addEventListener("securitypolicyviolation", (event) => resolve(event.violatedDirective));
        const script = document.createElement("script");
        script.textContent = "document.title = 'run'";
        document.body.append(script);
      })`);
      expect(blocked).toMatch(/script-src/);
      expect(await page.title()).toBe("Unmoor");
    });

    test("signed in, its session is out of the page's reach, and it sees an entry as it is made", async () => {
      const signIn = {
        method: "POST",
        headers: JSON_TYPE,
        body: JSON.stringify({ person: "dora", password: PASSWORD }),
      };
      expect(await page.evaluate(`fetch("/api/sign-in", ${JSON.stringify(signIn)}).then(({ status }) => status)`)).toBe(
        200,
      );
      expect(await page.evaluate("document.cookie")).toBe("");
      await page.evaluate(`void (window.seen = new Promise((resolve) => {
        const stream = new EventSource("/api/runs/pump-1/live");
        stream.addEventListener("entry", ({ data }) => {
          stream.close();
          resolve(JSON.parse(data).body.text);
        });
      }))`);
      await (people.emil as Client).enter("pump-1", v7(), { kind: "note", text: "seen at once" });
      expect(await page.evaluate("seen")).toBe("seen at once");
    });

    test("[S9] another page can neither enter anything in her name nor read what she sees", async () => {
      const other = createServer((_, response) => {
        response.setHeader("content-type", "text/html");
        response.end("<!doctype html><title>another</title><form method=post enctype=text/plain><input></form>");
      }).listen(0, "0.0.0.0");
      await new Promise((resolve) => other.once("listening", resolve));
      const foreign = await page.context().newPage();
      await foreign.goto(`http://${new URL(origin).hostname}:${(other.address() as AddressInfo).port}/`);
      const before = (await (people.emil as Client).get("/runs/pump-1")).entries;
      const entry = JSON.stringify({ entries: [{ id: v7(), say: { kind: "note", text: "not hers" } }] });
      const attempt = (init: Readonly<Record<string, unknown>>, path = "entries") =>
        foreign.evaluate(`fetch("${origin}/api/runs/pump-1/${path}", ${JSON.stringify({ credentials: "include", ...init })})
          .then(({ type }) => type, () => "blocked")`);
      expect(await attempt({ method: "POST", headers: JSON_TYPE, body: entry })).toBe("blocked");
      // This one is sent, whatever its answer; that nothing came of it is seen below.
      expect(await attempt({ method: "POST", mode: "no-cors", body: entry })).toBe("blocked");
      expect(await attempt({}, "record")).toBe("blocked");
      await foreign.evaluate(`{
        const form = document.querySelector("form");
        form.action = "${origin}/api/runs/pump-1/entries";
        form.firstChild.name = ${JSON.stringify(`${entry.slice(0, -1)},"x":"`)};
        form.firstChild.value = '"}';
        form.submit();
      }`);
      await foreign.waitForURL(`${origin}/**`);
      expect(await foreign.textContent("body")).toContain("another page sent this");
      expect((await (people.emil as Client).get("/runs/pump-1")).entries).toBe(before);
      await foreign.close();
      other.close();
    });

    test("[P28] a passkey opens its owner's session once for each challenge, on this page alone, and not when it was removed", async () => {
      // A passkey is bound to a name, and an address is none.
      await page.goto(`https://localhost:${shop.serving.port}`);
      const device = await page.context().newCDPSession(page);
      await device.send("WebAuthn.enable");
      const options = {
        protocol: "ctap2",
        transport: "internal",
        hasResidentKey: true,
        hasUserVerification: true,
      } as const;
      await device.send("WebAuthn.addVirtualAuthenticator", {
        options: { ...options, isUserVerified: true, automaticPresenceSimulation: true },
      });
      await page.evaluate(`window.post = (path, body, method = "POST") =>
        fetch("/api" + path, { method, headers: ${JSON.stringify(JSON_TYPE)}, body: JSON.stringify(body) })
          .then(async (answer) => ({ status: answer.status, body: await answer.json().catch(() => undefined) }))`);
      const post = (path: string, body: unknown, method = "POST") =>
        page.evaluate(`post(${JSON.stringify(path)}, ${JSON.stringify(body)}, "${method}")`) as Promise<{
          status: number;
          body: Record<string, never>;
        }>;
      expect((await post("/sign-in", { person: "dora", password: PASSWORD })).status).toBe(200);
      const made = await page.evaluate(`post("/passkeys/options", {}).then(async ({ body }) => {
        const publicKey = PublicKeyCredential.parseCreationOptionsFromJSON(body);
        const made = (await navigator.credentials.create({ publicKey })).toJSON();
        return { made, answer: await post("/passkeys", { label: "this tablet", made }) };
      })`);
      const { made: sent, answer } = made as { made: unknown; answer: { status: number; body: { id: string } } };
      expect(answer.status).toBe(200);
      // Its challenge is spent.
      expect((await post("/passkeys", { label: "again", made: sent })).status).toBe(400);
      await post("/sign-out", {});
      const show = `post("/sign-in/passkey/options", {}).then(async ({ body }) => {
        const publicKey = PublicKeyCredential.parseRequestOptionsFromJSON(body);
        return (await navigator.credentials.get({ publicKey })).toJSON();
      })`;
      const shown = (await page.evaluate(show)) as { response: { signature: string } };
      expect(await post("/sign-in/passkey", shown)).toMatchObject({ status: 200, body: { person: "dora" } });
      await post("/sign-out", {});
      expect((await post("/sign-in/passkey", shown)).status).toBe(401);
      const forged = (await page.evaluate(show)) as { response: { signature: string } };
      const { signature } = shown.response;
      expect((await post("/sign-in/passkey", { ...forged, response: { ...forged.response, signature } })).status).toBe(
        401,
      );
      const elsewhere = await (people.emil as Client).ask("POST", "/sign-in/passkey", await page.evaluate(show), {
        origin: "https://elsewhere.example",
      });
      expect([401, 403]).toContain(elsewhere.status);
      expect((await post("/sign-in", { person: "dora", password: PASSWORD })).status).toBe(200);
      expect((await post(`/passkeys/${answer.body.id}`, undefined, "DELETE")).status).toBe(204);
      await post("/sign-out", {});
      expect((await post("/sign-in/passkey", await page.evaluate(show))).status).toBe(401);
    });
  });
});
