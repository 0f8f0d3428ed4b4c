// Owns what stands after a PIN in place of what may be changed: why not, and the way to where it is.

import { Link } from "wouter-preact";
import { Notice } from "../sheet/states.tsx";
import { useWords } from "../words/words.ts";

/** @param to the address to come back to */
export const OnlyWork = ({ to }: { readonly to: string }) => {
  const words = useWords();
  return (
    <Notice what={words.people.onlyWork} mend="">
      <Link href={`/sign-in?by=password&to=${encodeURIComponent(to)}`}>{words.people.onlyWorkMend}</Link>
    </Notice>
  );
};
