// Owns the server: store, door, desks, questions and routes put together, listening, and its graceful stop.

import { randomBytes, randomFillSync, randomUUID } from "node:crypto";
import { createServer, type Server, type ServerOptions } from "node:http";
import { createServer as createSafeServer } from "node:https";
import type { AddressInfo } from "node:net";
import { Server as SafeServer } from "node:tls";
import { createAdaptorServer } from "@hono/node-server";
import { v7 } from "uuid";
import { makeIdentity } from "../ledger/index.ts";
import { isDatabase, openStore, type Store } from "../store/index.ts";
import { connectionsOf } from "./connections.ts";
import type { World } from "./desk/index.ts";
import { makeApp } from "./http/app.ts";
import type { Certificate } from "./http/authority.ts";
import { Desks } from "./http/desks.ts";
import { type Log, Metrics } from "./http/observe.ts";
import type { Office } from "./http/office.ts";
import { packRoutes } from "./http/pack-routes.ts";
import { planningOf } from "./http/planning.ts";
import { type Cost, Doorkeeper, peopleRoutes } from "./people/index.ts";
import { printerOf } from "./printing.ts";
import { openQuestions, openReplanning, questionRoutes } from "./questions/index.ts";
import { nodesOwn, nodesSigner } from "./signatures.ts";

export interface ServeOptions {
  /** The shop's store: a file, or postgres://…. */
  readonly shop: string;
  readonly host: string;
  /** 0: any that is free. */
  readonly port: number;
  /** Over HTTPS where there is one. */
  readonly certificate?: Certificate;
  /** The script of the computing thread. */
  readonly thread: URL;
  /** The folder of the screens as they were built; without it there are none. */
  readonly screens?: URL;
  /** Questions computed at a time; 0: others compute them; all cores but one where it is not said. */
  readonly threads?: number;
  readonly version: string;
  readonly log: Log;
  /** How patient it is with those who are slow; a few minutes at most where it is left out. */
  readonly limits?: ServerOptions;
  /** What a kept password or PIN costs whoever would guess it; as published advice has it where it is left out. */
  readonly cost?: Cost;
}

export interface Serving {
  readonly port: number;
  /** Of the first set-up, where nobody can sign in yet. */
  readonly setupCode: string | undefined;
  /** Takes another certificate: whoever connects from now on is shown it, and nobody who is connected is cut off. */
  renew(certificate: Certificate): void;
  /** Ends the streams, lets what is under way be answered, and closes the store. */
  stop(): Promise<void>;
}

/** Milliseconds for which a request waits for a database that is away before it is told so. */
const PATIENCE = 5_000;
/** Milliseconds that what is under way has to be answered once the server is to stop. */
const GRACE = 10_000;
/** Milliseconds: a head that is not there by then never comes; a body may come slowly, from a tablet at the end of the hall. */
const LIMITS: ServerOptions = {
  headersTimeout: 15_000,
  requestTimeout: 120_000,
  connectionsCheckingInterval: 5_000,
  keepAliveTimeout: 20_000,
  maxHeaderSize: 16_384,
};
/** Of TLS. */
const OLDEST = "TLSv1.2";
/** Sockets of one process: as many as may follow runs, and as many again that ask. */
const SOCKETS = 2_000;
const HOUR = 3_600_000;
/** Milliseconds after which what is over is let go of: sessions and tries, and answers that anybody may ask for again. */
const OVER = 30 * 24 * HOUR;
const ANSWERS = 180 * 24 * HOUR;

/** Serves a shop. @throws StoreFault; or Node's own error where it cannot listen there */
export const serve = async (options: ServeOptions): Promise<Serving> => {
  const { shop, certificate, log, version } = options;
  const limits = { ...LIMITS, ...options.limits };
  const store = await openStore(shop, PATIENCE);
  // What is open is closed in turn, the last first, when it stops or cannot begin.
  const closing: (() => Promise<unknown> | unknown)[] = [() => store.close()];
  const closeAll = async () => {
    for (const close of closing.reverse()) await close();
  };
  try {
    const now = () => Date.now();
    const replanning = openReplanning(options.thread, (fault) => log({ at: new Date(now()).toISOString(), fault }));
    closing.push(() => replanning.close());
    const world = { ...(await worldOf(store, now)), replanner: replanning.replan };
    const stopping = new AbortController();
    const { thread, threads, cost } = options;
    const door = new Doorkeeper({ store, now, ...(cost === undefined ? {} : { cost }) });
    const setupCode = await door.setupCode();
    const desks = new Desks(store, world, nodesOwn());
    await desks.start();
    closing.push(() => desks.stop());
    const questions = await openQuestions({
      store,
      ...(isDatabase(shop) ? { database: shop } : {}),
      thread,
      ...(threads === undefined ? {} : { threads }),
      now,
      name: v7({ random: randomBytes(16) }),
      log: (what, question) => log({ at: new Date(now()).toISOString(), question, fault: what }),
    });
    closing.push(() => questions.stop());

    const isSecure = certificate !== undefined;
    const entrance = peopleRoutes(door, isSecure);
    const office: Office = {
      store,
      desks,
      vouching: door,
      directory: store.accounts,
      planning: planningOf(questions, stopping.signal),
      world,
      stopping: stopping.signal,
    };
    const app = makeApp({
      office,
      metrics: new Metrics(),
      log,
      version,
      nextId: randomUUID,
      identify: entrance.identify,
      routes: [
        entrance.routes,
        questionRoutes(questions, stopping.signal),
        packRoutes(office, printerOf(new URL("./print-thread.js", thread))),
      ],
      isSecure,
      screens: options.screens,
    });
    const server = createAdaptorServer({
      fetch: app.fetch,
      ...(certificate === undefined
        ? { createServer, serverOptions: limits }
        : { createServer: createSafeServer, serverOptions: { ...limits, ...certificate, minVersion: OLDEST } }),
    }) as Server;
    server.maxConnections = SOCKETS;
    const endConnections = connectionsOf(server);
    await listen(server, options.port, options.host);
    closing.push(() => {
      const ended = endConnections(GRACE);
      // Streams would go on for ever.
      stopping.abort();
      return ended;
    });

    const sweep = setInterval(() => {
      const at = now();
      Promise.all([store.accounts.sweep(at, at - OVER), store.questions.forget(at - ANSWERS)]).catch((error: unknown) =>
        // What is over hurts nobody for another hour.
        log({ at: new Date(at).toISOString(), fault: String(error) }),
      );
    }, HOUR).unref();
    closing.push(() => clearInterval(sweep));

    let stopped: Promise<void> | undefined;
    return {
      port: (server.address() as AddressInfo).port,
      setupCode,
      renew: (renewed) => {
        if (server instanceof SafeServer) server.setSecureContext({ ...renewed, minVersion: OLDEST });
      },
      stop: () => {
        stopped ??= closeAll();
        return stopped;
      },
    };
  } catch (error) {
    await closeAll();
    throw error;
  }
};

/** The server signs as one device, the same for every process of a store. */
const worldOf = async (store: Store, now: () => number): Promise<World> => ({
  identity: makeIdentity(Buffer.from(await store.accounts.settle("device", randomBytes(32).toString("hex")), "hex")),
  sign: nodesSigner(),
  now,
  random: drawRandom(),
});

/** Random bytes out of a store of them: to ask the system for sixteen at a time costs more than the rest of an entry's id. */
const drawRandom = (): ((count: number) => Uint8Array) => {
  const drawn = new Uint8Array(4096);
  let used = drawn.length;
  return (count) => {
    if (used + count > drawn.length) {
      randomFillSync(drawn);
      used = 0;
    }
    used += count;
    return drawn.slice(used - count, used);
  };
};

const listen = (server: Server, port: number, host: string): Promise<void> =>
  new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, host, () => {
      server.off("error", reject);
      resolve();
    });
  });
