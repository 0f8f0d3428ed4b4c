// Owns a refusal where a form shows it: what is wrong and what would mend it, in the language of the page.

import { Refusal, type Said } from "../shop/calls.ts";
import type { Words } from "../words/said.ts";
import { useWords } from "../words/words.ts";

const capital = (text: string): string => text.slice(0, 1).toLocaleUpperCase() + text.slice(1);

/** The last word of the problem's type, by which a page tells one refusal from another. */
export const kindOf = (refusal: Refusal): string => String(refusal.more.type ?? "").replace(/^.*\//, "");

/** Whatever went wrong, as a refusal; a fault of the program is thrown on. @throws unknown */
export const asRefusal = (error: unknown): Refusal => {
  if (error instanceof Refusal) return error;
  throw error;
};

/** What is wrong, as a sentence, and what would mend it. */
export const sayRefusal = (words: Words, { what, mend, phrases, status }: Said & { readonly status?: number }) => {
  if (status === 0) return { what: words.door.needsServer, mend: words.door.needsServerMend };
  if (what === "") return { what: words.door.answered(status ?? 0), mend: "" };
  const said = capital(words.door.said(what, phrases?.[0]));
  return { what: /[.?!]$/.test(said) ? said : `${said}.`, mend: words.door.said(mend, phrases?.[1]) };
};

export const Refused = ({ fault }: { readonly fault: Refusal | undefined }) => {
  const words = useWords();
  if (fault === undefined) return null;
  const { what, mend } = sayRefusal(words, fault);
  return (
    <p class="notice" role="alert">
      <b>{what}</b> {mend}
    </p>
  );
};
