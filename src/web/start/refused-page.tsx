// Owns the page of an address of the server itself that was opened in a tab and is refused: why, and what would mend it, in the device's language.

import { useEffect, useState } from "preact/hooks";
import { Failed } from "../sheet/states.tsx";
import { type Refusal, readJson, refusalFrom } from "../shop/calls.ts";
import { useWords } from "../words/words.ts";
import { DoorPage } from "./door-page.tsx";

/** What the server said, once: it stands in the page that it sent in place of what was asked for. */
const takeRefusal = (): Refusal | undefined => {
  const said = document.getElementById("refused");
  said?.remove();
  const problem = readJson(said?.textContent ?? "") as { readonly status: number } | undefined;
  return problem === undefined ? undefined : refusalFrom(problem.status, problem);
};

export const RefusedPage = () => {
  const words = useWords();
  const [refusal] = useState(takeRefusal);
  // Come back to by a link, as from signing in: the server is asked again.
  useEffect(() => {
    if (refusal === undefined) location.reload();
  }, [refusal]);
  if (refusal === undefined) return null;
  return (
    <DoorPage title={words.sheet.notGiven}>
      <Failed error={refusal} />
    </DoorPage>
  );
};
