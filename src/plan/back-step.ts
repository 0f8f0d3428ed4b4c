// Owns what one step of the way back is.

/** One step of the way back. */
export type BackStep =
  | { readonly refit: string; readonly way: string }
  /** A task's return: filled after drained, in after out, off after on. */
  | { readonly return: string }
  /** A task that belongs to the way back: bleed, adjust, test. */
  | { readonly perform: string }
  | { readonly do: string }
  | { readonly undo: string };
