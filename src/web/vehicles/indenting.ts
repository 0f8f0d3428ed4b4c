// Owns how far in a new line begins: further in after a key without a value, in line with the first key after an item of a list.

/** Columns that a level stands further in than the one above it. */
export const STEP = 2;

/** @param above the line before, as far as the cursor */
export const indentAfter = (above: string): number => {
  const text = above.replace(/\s#.*$/, "").trimEnd();
  const own = text.length - text.trimStart().length;
  const dashes = /^(\s*(?:-\s+)*)/.exec(text)?.[0].length ?? own;
  // An item that is one word has no keys: the next is an item like it.
  const isKeyed = /^[^\s{}[\],][^{}[\],]*?:(\s|$)/.test(text.slice(dashes));
  const level = dashes > own && isKeyed ? dashes : own;
  return /[:[{]$/.test(text) || /:\s*&\S+$/.test(text) ? level + STEP : level;
};
