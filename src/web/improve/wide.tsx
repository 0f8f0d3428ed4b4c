// Owns a table that may be wider than its place: it scrolls by itself, by keys as well.

import type { ComponentChildren } from "preact";

export const Wide = ({ label, children }: { readonly label: string; readonly children: ComponentChildren }) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keys.
  <section class="wide" aria-label={label} tabIndex={0}>
    {children}
  </section>
);
