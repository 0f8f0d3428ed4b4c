// Owns what is told while a draft is worked on: lines that were typed, captions and recordings that are dropped, put into the draft that is there.

import { useCallback, useState } from "preact/hooks";
import type { ModelFile } from "../engine/asked.ts";
import { useDropped } from "../start/dropped.ts";
import { useWords } from "../words/words.ts";
import { listen, sortOut } from "./bring.ts";
import type { Desk } from "./desk.ts";
import { TOLD } from "./handed.ts";
import type { MediaKept } from "./kept.ts";
import { typedText } from "./passages.ts";

export interface Telling {
  readonly busy: boolean;
  /** Why what was told last is not in the draft. */
  readonly refused: string | undefined;
  readonly forget: () => void;
  readonly hearTyped: () => void;
}

export const useTelling = ({ kept, extend, type }: Desk, onMedia: (media: MediaKept) => void): Telling => {
  const words = useWords();
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<string>();
  const hear = async (files: readonly ModelFile[]): Promise<boolean> => {
    setBusy(true);
    setRefused(undefined);
    try {
      const answer = await listen(files, words.drafts.name);
      if ("told" in answer) extend(answer.told);
      else setRefused(answer.refused.map(({ what, mend }) => `${what}. ${mend}`).join(" "));
      return "told" in answer;
    } finally {
      setBusy(false);
    }
  };
  const hearTyped = async () => {
    const text = typedText(kept.typed);
    const ending = text.startsWith("WEBVTT") ? "vtt" : "txt";
    const path = `${words.drafts.typed} ${kept.narrations.length + 1}.${ending}`;
    if (await hear([{ path, text }])) type([]);
  };
  useDropped(TOLD, async (given) => {
    const sorted = await sortOut(given, (file, mb) => ({
      what: words.drafts.tooLarge(file, mb),
      mend: words.drafts.tooLargeMend,
    }));
    if ("refused" in sorted) setRefused(sorted.refused.map(({ what, mend }) => `${what}. ${mend}`).join(" "));
    else {
      if (sorted.media !== undefined) onMedia({ name: sorted.media.name, bytes: sorted.media });
      if (sorted.files.length > 0) await hear(sorted.files);
    }
  });
  const forget = useCallback(() => setRefused(undefined), []);
  return { busy, refused, forget, hearTyped: () => void hearTyped() };
};
