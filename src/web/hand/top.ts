// Owns the beginning of a page in hand: what is new stands at its top, in sight.

/** Of a screen without room for head and foot the whole page scrolls, else what lies between. */
export const toTop = (): void => {
  document.querySelector(".work > main")?.scrollTo(0, 0);
  scrollTo(0, 0);
};
