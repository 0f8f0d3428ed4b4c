// Owns the addresses of the work in hand: its list, and each page of a run.

/** The runs that the device has with it. */
export const HAND = "/hand";

export type Page = "next" | "steps" | "gates" | "lift" | "found" | "shift" | "ties" | "scan" | "hands";

/** The address of a page of a run, with what is looked for there. */
export const handPath = (run: string, page: Page, sought: Readonly<Record<string, string>> = {}): string => {
  const query = new URLSearchParams(sought).toString();
  return `${HAND}/${encodeURIComponent(run)}/${page}${query === "" ? "" : `?${query}`}`;
};
