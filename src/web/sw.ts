// Owns the keeping of the screens on a device: all of a version at once, given out whether there is a line or not, until a newer one is taken.

/** Put in by the build: the files of this version, and a name that changes with them. */
declare const FILES: readonly string[];
declare const VERSION: string;

/** What is used of the worker's own scope (W3C Service Workers); the screens' types are the page's. */
interface Scope {
  readonly clients: { claim(): Promise<void> };
  skipWaiting(): Promise<void>;
  addEventListener(type: "install" | "activate", act: (event: Extendable) => void): void;
  addEventListener(type: "fetch", act: (event: Extendable & Asking) => void): void;
  addEventListener(type: "message", act: (event: { readonly data: unknown }) => void): void;
}
interface Extendable {
  waitUntil(work: Promise<unknown>): void;
}
interface Asking {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}

const scope = globalThis as unknown as Scope;
const NAME = `unmoor-${VERSION}`;
const PAGE = "/page";
/** Addresses that programs ask at, which are never a page. */
const PROGRAMS = /^\/(api|app|health|ready|metrics)(\/|$)/;

const install = async (): Promise<void> => {
  const cache = await caches.open(NAME);
  // Any address that is nobody else's is the page; it is kept once.
  const page = await fetch("/", { cache: "no-store" });
  if (!page.ok) throw new Error(`the page is answered ${page.status}`);
  await cache.put(PAGE, page);
  await cache.addAll(FILES);
};

const activate = async (): Promise<void> => {
  for (const name of await caches.keys()) if (name.startsWith("unmoor-") && name !== NAME) await caches.delete(name);
  await scope.clients.claim();
};

const keptOr = async (key: string, request: Request): Promise<Response> =>
  // Not opened, which would make it again after a newer version has cleared it away.
  (await caches.match(key, { cacheName: NAME })) ?? fetch(request);

scope.addEventListener("install", (event) => event.waitUntil(install()));
scope.addEventListener("activate", (event) => event.waitUntil(activate()));
// A newer version waits until somebody takes it: nothing changes under anybody's hands.
scope.addEventListener("message", ({ data }) => {
  if (data === "take") void scope.skipWaiting();
});
scope.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin) return;
  if (request.mode === "navigate" && !PROGRAMS.test(pathname)) event.respondWith(keptOr(PAGE, request));
  else if (FILES.includes(pathname)) event.respondWith(keptOr(pathname, request));
});
