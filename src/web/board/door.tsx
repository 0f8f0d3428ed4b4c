// Owns the way to the board: a chunk of its own, for the one screen that shows it.

import { lazy, Suspense } from "preact/compat";
import { chunkMissing } from "../sheet/renewed.ts";
import { useWords } from "../words/words.ts";

const Whole = lazy(() => import("./board.tsx").then((found) => found.Board).catch(chunkMissing));

export const Board = () => {
  const words = useWords();
  return (
    <Suspense fallback={<p class="waiting busy">{words.sheet.reading}</p>}>
      <Whole />
    </Suspense>
  );
};
