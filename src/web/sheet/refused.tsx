// Owns a refusal where a form shows it: what is wrong and what would mend it, in the language of the page.

import { Refusal } from "../shop/calls.ts";
import { useWords } from "../words/words.ts";

const capital = (text: string): string => text.slice(0, 1).toLocaleUpperCase() + text.slice(1);

/** The last word of the problem's type, by which a page tells one refusal from another. */
export const kindOf = (refusal: Refusal): string => String(refusal.more.type ?? "").replace(/^.*\//, "");

/** Whatever went wrong, as a refusal; a fault of the program is thrown on. @throws unknown */
export const asRefusal = (error: unknown): Refusal => {
  if (error instanceof Refusal) return error;
  throw error;
};

export const Refused = ({ fault }: { readonly fault: Refusal | undefined }) => {
  const words = useWords();
  if (fault === undefined) return null;
  const [what, mend] =
    fault.status === 0
      ? [words.door.needsServer, words.door.needsServerMend]
      : [`${capital(words.door.said(fault.what))}.`, words.door.said(fault.mend)];
  return (
    <p class="notice" role="alert">
      <b>{what}</b> {mend}
    </p>
  );
};
