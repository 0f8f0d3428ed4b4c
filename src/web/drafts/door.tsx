// Owns the way to the drafts: a chunk of its own, for who writes a vehicle file.

import { lazy, Suspense } from "preact/compat";
import { chunkMissing } from "../sheet/renewed.ts";
import { useWords } from "../words/words.ts";

const Begin = lazy(() => import("./begin.tsx").then((found) => found.Begin).catch(chunkMissing));
const Editor = lazy(() => import("./draft-page.tsx").then((found) => found.DraftPage).catch(chunkMissing));

export const Drafts = ({ id }: { readonly id?: string }) => {
  const words = useWords();
  return (
    <Suspense fallback={<p class="waiting busy">{words.sheet.reading}</p>}>
      {id === undefined ? <Begin /> : <Editor key={id} id={id} />}
    </Suspense>
  );
};
