// Owns where a page in hand begins: what is new stands at its top, in sight, and keys go on from there where what had them is gone.

/** Of a screen without room for head and foot the whole page scrolls, else what lies between. */
export const toTop = (): void => {
  document.querySelector(".work > main")?.scrollTo(0, 0);
  scrollTo(0, 0);
};

/** What had the keys is gone or shut: they go on from the page that it was on, and not from the very first link. */
export const keepKeys = (): void => {
  if (document.activeElement === document.body)
    document.querySelector<HTMLElement>(".work > main")?.focus({ preventScroll: true });
};
