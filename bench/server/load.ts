// Owns the measure of a server under load: durable entries a second, how soon everybody sees one, and a device that comes back with an hour's entries.
import { v7 } from "uuid";
import { type Identity, signPairing } from "../../src/ledger/index.ts";
import { Browser } from "../../test/door.ts";
import { TestDevice } from "../../test/run.ts";
import { Client, PASSWORD } from "../../test/serving.ts";

export interface LoadRow {
  readonly store: string;
  readonly what: string;
  readonly figure: number;
  readonly unit: string;
  readonly bar: number;
  readonly more: string;
}

const note = (text: string) => ({ kind: "note", text }) as const;

/** Clients of one person, each with a connection of its own. */
export const several = (client: Client, count: number): readonly Client[] =>
  Array.from({ length: count }, () => new Client(client.origin, client.token));

const quantile = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;

/** Entries a second, each durable before it is answered. */
export async function measureEntries(
  store: string,
  clients: readonly Client[],
  run: string,
  each: number,
  bar: number,
): Promise<LoadRow> {
  const write = async (client: Client, count: number) => {
    const took: number[] = [];
    for (let i = 0; i < count; i++) {
      const begin = performance.now();
      const { status, body } = await client.enter(run, v7(), note(`entry ${i}`));
      if (status !== 200) throw new Error(`an entry is answered ${status}: ${JSON.stringify(body)}`);
      took.push(performance.now() - begin);
    }
    return took;
  };
  await Promise.all(clients.map((client) => write(client, 10)));
  const begin = performance.now();
  const took = (await Promise.all(clients.map((client) => write(client, each)))).flat().sort((a, b) => a - b);
  const seconds = (performance.now() - begin) / 1000;
  return {
    store,
    what: `durable entries over HTTP, ${clients.length} clients`,
    figure: Math.round(took.length / seconds),
    unit: "entries/s",
    bar,
    more: `${took.length} entries; answered in ${quantile(took, 0.5).toFixed(0)} ms, 99 % in ${quantile(took, 0.99).toFixed(0)} ms`,
  };
}

/** From an entry's sending to its arrival at every tablet. */
export async function measureLive(
  store: string,
  tablets: readonly Client[],
  writers: readonly Client[],
  run: string,
  entries: number,
): Promise<LoadRow> {
  const sent = new Map<string, number>();
  const took: number[] = [];
  const streams = await Promise.all(
    tablets.map((tablet) =>
      tablet.follow(`/runs/${run}/live`, ({ data }) => {
        const begin = sent.get(/"id":"([^"]+)"/.exec(data)?.[1] ?? "");
        if (begin !== undefined) took.push(performance.now() - begin);
      }),
    ),
  );
  const write = async (client: Client) => {
    for (let i = 0; i < entries / writers.length; i++) {
      const id = v7();
      sent.set(id, performance.now());
      await client.enter(run, id, note("to everybody's screen"));
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
  };
  await Promise.all(writers.map(write));
  const due = sent.size * tablets.length;
  for (let waited = 0; took.length < due && waited < 10_000; waited += 10)
    await new Promise((resolve) => setTimeout(resolve, 10));
  for (const stream of streams) stream.close();
  took.sort((a, b) => a - b);
  return {
    store,
    what: `entry to everyone's screen, ${tablets.length} tablets, 99th percentile`,
    figure: Math.round(quantile(took, 0.99)),
    unit: "ms",
    bar: 150,
    more: `${took.length} of ${due} arrivals; median ${quantile(took, 0.5).toFixed(0)} ms, last ${(took.at(-1) ?? Number.NaN).toFixed(0)} ms`,
  };
}

/** Pairs a device of one's own, in a browser that keeps its cookies. */
async function pairOwn(origin: string, person: string, identity: Identity): Promise<Browser> {
  const browser = new Browser(origin);
  const expect = (what: string, { status, body }: { readonly status: number; readonly body: unknown }) => {
    if (status !== 200) throw new Error(`${what} is answered ${status}: ${JSON.stringify(body)}`);
  };
  expect("sign-in", await browser.post("/sign-in", { person, password: PASSWORD }));
  const me = await browser.get("/me");
  expect("who one is", me);
  const { key } = identity;
  const proof = signPairing(identity, me.body.session);
  expect("pairing", await browser.post("/devices", { name: "a tablet of one's own", own: true, key, proof }));
  return browser;
}

/** A device brings what it wrote while it was alone, while others write; until the last entry is at every tablet. */
export async function measureReturn(
  store: string,
  tablets: readonly Client[],
  writers: readonly Client[],
  run: string,
  count: number,
): Promise<LoadRow> {
  const [{ origin } = { origin: "" }] = tablets;
  const device = new TestDevice(20_261, run);
  const { identity } = device.pens.pen;
  const browser = await pairOwn(origin, "emil", identity);
  const anHourAgo = Date.now();
  const told = Array.from({ length: count }, (_, i) => device.write("emil", note(`alone ${i}`), anHourAgo + i));
  const due = new Set(told.map(({ entry }) => entry.id));
  const missing = tablets.map(() => new Set(due));
  const streams = await Promise.all(
    tablets.map((tablet, i) =>
      tablet.follow(`/runs/${run}/live`, ({ data }) => void missing[i]?.delete(/"id":"([^"]+)"/.exec(data)?.[1] ?? "")),
    ),
  );
  let stop = false;
  const write = async (client: Client) => {
    for (let i = 0; !stop; i++) {
      await client.enter(run, v7(), note(`meanwhile ${i}`));
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
  };
  const writing = Promise.all(writers.map(write));
  const begin = performance.now();
  const { status, body } = await browser.post(`/runs/${run}/told`, {
    key: identity.key,
    told: told.map(({ text }) => text),
  });
  if (status !== 200)
    throw new Error(`what the device brings is answered ${status}: ${JSON.stringify(body).slice(0, 500)}`);
  const answered = performance.now() - begin;
  while (missing.some(({ size }) => size > 0) && performance.now() - begin < 30_000)
    await new Promise((resolve) => setTimeout(resolve, 5));
  const everywhere = performance.now() - begin;
  stop = true;
  await writing;
  for (const stream of streams) stream.close();
  const lost = missing.reduce((sum, { size }) => sum + size, 0);
  return {
    store,
    what: `a device back with ${count} entries while ${writers.length} write, at all ${tablets.length} tablets`,
    figure: Math.round(everywhere),
    unit: "ms",
    bar: 2000,
    more: `answered in ${answered.toFixed(0)} ms; ${lost} arrivals missing`,
  };
}

/** Whether every tablet, asked anew, tells one and the same run, without gap. */
export async function compareStates(clients: readonly Client[], run: string): Promise<boolean> {
  const states = await Promise.all(
    clients.map(async (client) => {
      const texts: string[] = [];
      for (let behind = 0; ; ) {
        const { entries, next } = await client.get(`/runs/${run}/entries?limit=5000&behind=${behind}`);
        for (const { position, text } of entries) {
          if (position !== texts.length + 1) return "a gap";
          texts.push(text);
        }
        if (next === undefined) break;
        behind = next;
      }
      return texts.join("\n");
    }),
  );
  return new Set(states).size === 1 && states[0] !== "a gap";
}
