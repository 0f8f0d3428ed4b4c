// Owns the screens as they are kept on this device: brought there once, and a newer version offered, never taken unasked.

import { useEffect, useState } from "preact/hooks";
import { whenIdle } from "../sheet/idle.ts";
import { useWords } from "../words/words.ts";

/** Where the browser keeps nothing of the kind (plain HTTP, a private window) the page comes from the server each time. */
const canKeep = (): boolean => globalThis.isSecureContext && "serviceWorker" in navigator;

/** Hears of a version that waits. */
const useNewer = (): ServiceWorker | undefined => {
  const [newer, setNewer] = useState<ServiceWorker>();
  useEffect(() => {
    if (!canKeep()) return;
    const ended = new AbortController();
    const { signal } = ended;
    const register = () =>
      navigator.serviceWorker.register("/sw.js").then(
        (registration) => {
          // The first one is no newer one.
          const look = () => {
            if (navigator.serviceWorker.controller !== null) setNewer(registration.waiting ?? undefined);
          };
          look();
          registration.addEventListener(
            "updatefound",
            () => registration.installing?.addEventListener("statechange", look, { signal }),
            { signal },
          );
          addEventListener("online", () => void registration.update().catch(() => undefined), { signal });
        },
        // The server is away, or this is no place for it: the page is there all the same.
        () => undefined,
      );
    // All of the screens come with it: not while this page still waits for its own part of them.
    whenIdle(() => {
      if (!signal.aborted) void register();
    });
    return () => ended.abort();
  }, []);
  return newer;
};

/** Says that a newer version is on the device, and takes it when it is told to. What was entered is in the drawer; the page is loaded anew. */
export const Newer = () => {
  const words = useWords();
  const newer = useNewer();
  if (newer === undefined) return null;
  const take = () => {
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
    newer.postMessage("take");
  };
  return (
    <p class="newer" role="status">
      {words.sheet.newer}
      <button type="button" onClick={take}>
        {words.sheet.takeNewer}
      </button>
    </p>
  );
};

/** Asks the browser not to clear away what waits here when the device is short of room. */
export const askToStay = (): void => {
  void navigator.storage?.persist?.().catch(() => undefined);
};
