// Owns the end of a session that nobody used: the page asks once it is over, and no sooner, since asking would keep it alive.

import { useQueryClient } from "@tanstack/preact-query";
import { useEffect } from "preact/hooks";
import { lastHeard } from "./calls.ts";
import { useMe } from "./door.ts";

/** Milliseconds behind the end: clocks of two machines do not go alike. */
const BEHIND = 5_000;
/** The longest that a browser's timer waits. */
const LONGEST = 2 ** 31 - 1;

export const useSessionEnd = (): void => {
  const queries = useQueryClient();
  const { session, idle } = useMe() ?? {};
  useEffect(() => {
    if (session === undefined || idle === undefined) return;
    let clock: ReturnType<typeof setTimeout>;
    const wait = (least = 0) => {
      const left = lastHeard() + idle + BEHIND - Date.now();
      clock = setTimeout(look, Math.min(LONGEST, Math.max(left, least)));
    };
    const look = () => {
      if (Date.now() - lastHeard() <= idle) return wait();
      void queries.invalidateQueries({ queryKey: ["door"] });
      // Where the server is away nothing is known; it is asked again as late as that.
      wait(idle);
    };
    wait();
    return () => clearTimeout(clock);
  }, [session, idle, queries]);
};
