// Owns the way into the work in hand: its pages are chunks of their own, so that whoever plans does not load them.

import { lazy, Suspense } from "preact/compat";
import { chunkMissing } from "../sheet/renewed.ts";
import { useWords } from "../words/words.ts";

const List = lazy(() => import("./hand-list.tsx").then(({ HandList: found }) => found).catch(chunkMissing));
const Page = lazy(() => import("./hand-page.tsx").then(({ HandPage }) => HandPage).catch(chunkMissing));

const Tag = lazy(() => import("./tag-anywhere.tsx").then((found) => found.TagAnywhere).catch(chunkMissing));

const Wait = () => <p class="waiting busy">{useWords().hand.opening}</p>;

export const HandList = () => (
  <Suspense fallback={<Wait />}>
    <List />
  </Suspense>
);

export const TagAnywhere = (at: { readonly text: string }) => (
  <Suspense fallback={<Wait />}>
    <Tag {...at} />
  </Suspense>
);

export const InHand = (at: { readonly run: string; readonly leaf?: string }) => (
  <Suspense fallback={<Wait />}>
    <Page {...at} />
  </Suspense>
);
