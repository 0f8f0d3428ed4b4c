// Owns what is done while nothing else is to do.

/** Calls it once the page is idle; where a browser does not tell, after two seconds. */
export const whenIdle = (act: () => void): void => {
  const idle = globalThis.requestIdleCallback ?? ((later: () => void) => setTimeout(later, 2000));
  idle(act);
};
