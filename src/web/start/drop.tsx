// Owns files that are dropped on the page or chosen: they are opened, or why not is said.

import type { ComponentChildren } from "preact";
import { useCallback, useEffect, useState } from "preact/hooks";
import { useLocation } from "wouter-preact";
import type { Words } from "../words/said.ts";
import { useWords } from "../words/words.ts";
import { handOver } from "./dropped.ts";
import type { Opened } from "./opening.ts";

/** Where the server is away, and the page has not got that part of it yet, it says so. */
const open = async (given: readonly File[], words: Words): Promise<Opened> => {
  try {
    return await (await import("./opening.ts")).open(given, words.start);
  } catch {
    return { what: words.sheet.offline, mend: words.door.needsServerMend };
  }
};

/** Opens what is given and goes there, or says why not. */
export const useOpen = () => {
  const words = useWords();
  const [, navigate] = useLocation();
  const [fault, setFault] = useState<{ readonly what: string; readonly mend: string }>();
  const take = useCallback(
    async (files: readonly File[]) => {
      const opened = await open(files, words);
      if ("what" in opened) setFault(opened);
      else {
        setFault(undefined);
        navigate(`/mine/${encodeURIComponent(opened.id)}/vehicle`);
      }
    },
    [words, navigate],
  );
  return { take, fault, forget: () => setFault(undefined) };
};

export const DropAnywhere = ({ children }: { readonly children: ComponentChildren }) => {
  const words = useWords();
  const { take, fault, forget } = useOpen();
  const [isOver, setOver] = useState(false);
  useEffect(() => {
    const hasFiles = (event: DragEvent) => event.dataTransfer?.types.includes("Files") === true;
    const over = (event: DragEvent) => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      setOver(true);
    };
    const leave = (event: DragEvent) => {
      if (event.relatedTarget === null) setOver(false);
    };
    const dropped = (event: DragEvent) => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      setOver(false);
      const given = [...(event.dataTransfer?.files ?? [])];
      const left = handOver(given);
      if (left.length > 0 || given.length === 0) void take(left);
    };
    const all = new AbortController();
    const { signal } = all;
    addEventListener("dragover", over, { signal });
    addEventListener("dragleave", leave, { signal });
    addEventListener("drop", dropped, { signal });
    return () => all.abort();
  }, [take]);
  return (
    <>
      {children}
      {isOver ? <div class="drop-over">{words.start.dropHere}</div> : null}
      {fault === undefined ? null : (
        <div class="drop-fault notice" role="alert">
          <p>
            <b>{fault.what}</b>
          </p>
          <p>{fault.mend}</p>
          <button type="button" onClick={forget}>
            {words.sheet.close}
          </button>
        </div>
      )}
    </>
  );
};
