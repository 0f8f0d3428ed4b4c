// Owns the page of a draft: its vehicle file and what is kept beside it, or that there is none.

import { useQuery } from "@tanstack/preact-query";
import { useEffect, useMemo } from "preact/hooks";
import { Link } from "wouter-preact";
import { Frame } from "../sheet/sheet.tsx";
import { Failed, Notice } from "../sheet/states.tsx";
import { ModelProvider, useModelAt } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { DraftBlock } from "./block.tsx";
import { nothingKept } from "./desk.ts";
import { Editor } from "./editor.tsx";
import { takeDraft } from "./kept.ts";

export const DraftPage = ({ id }: { readonly id: string }) => {
  const words = useWords();
  const base = useMemo(() => ({ from: "mine" as const, id }), [id]);
  const state = useModelAt(base);
  const kept = useQuery({
    queryKey: ["draft-kept", id],
    queryFn: async () => (await takeDraft(id)) ?? null,
    staleTime: Number.POSITIVE_INFINITY,
    gcTime: 0,
  });
  const model = state.is === "ready" ? state.model : undefined;
  const name = model?.reading.vehicle?.name ?? id;
  useEffect(() => {
    document.title = `${name} – ${words.sheet.app}`;
  }, [name, words]);
  return (
    <Frame block={<DraftBlock name={name} id={id} />}>
      {state.is === "missing" ? (
        <Notice what={words.drafts.missing(id)} mend={words.drafts.missingMend}>
          <Link class="button" href="/draft">
            {words.drafts.title}
          </Link>
        </Notice>
      ) : state.is === "failed" ? (
        <Failed error={state.error} again={state.again} />
      ) : model === undefined || kept.data === undefined ? (
        <p class="waiting busy">{words.sheet.reading}</p>
      ) : (
        <ModelProvider model={model}>
          <Editor id={id} model={model} first={kept.data ?? nothingKept(model.files[0]?.text ?? "")} />
        </ModelProvider>
      )}
    </Frame>
  );
};
