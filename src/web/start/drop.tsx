// Owns files that are dropped on the page or chosen: a vehicle file opens, anything else gets a plain answer.

import type { ComponentChildren } from "preact";
import { useCallback, useEffect, useState } from "preact/hooks";
import { useLocation } from "wouter-preact";
import { FILE_LIMIT } from "../../vehicle/index.ts";
import { keep, mine } from "../shop/shelf.ts";
import type { Words } from "../words/said.ts";
import { useWords } from "../words/words.ts";
import { handOver } from "./dropped.ts";

/** A zero byte is in no text that anybody writes. */
const isText = (text: string): boolean => !text.slice(0, 4096).includes("\u0000") && !text.startsWith("\uFFFD");

type Opened = { readonly id: string } | { readonly what: string; readonly mend: string };

/** Puts files on this device's shelf: the one that says `format:` first is the main one. */
const open = async (given: readonly File[], words: Words["start"]): Promise<Opened> => {
  const [first] = given;
  if (first === undefined) return { what: words.noFile, mend: words.noFileMend };
  const large = given.find(({ size }) => size > FILE_LIMIT);
  if (large !== undefined)
    return {
      what: words.tooLarge(large.name, Math.round(large.size / 1e6), Math.floor(FILE_LIMIT / 1e6)),
      mend: words.tooLargeMend,
    };
  const files = await Promise.all(given.map(async (file) => ({ path: file.name, text: await file.text() })));
  const strange = files.find(({ text }) => !isText(text));
  if (strange !== undefined) return { what: words.noText(strange.path), mend: words.noTextMend };
  const main = files.find(({ text }) => /^format:/m.test(text)) ?? files[0];
  if (main === undefined) return { what: words.noFile, mend: words.noFileMend };
  const stem = main.path.replace(/(\.vehicle)?\.ya?ml$/i, "") || "vehicle";
  const taken = new Set((await mine()).map(({ id }) => id));
  let id = stem;
  for (let n = 2; taken.has(id); n += 1) id = `${stem}-${n}`;
  await keep(
    { from: "mine", id },
    { files: [main, ...files.filter((one) => one !== main)], madeFrom: 0, at: Date.now() },
  );
  return { id };
};

/** Opens what is given and goes there, or says why not. */
export const useOpen = () => {
  const words = useWords();
  const [, navigate] = useLocation();
  const [fault, setFault] = useState<{ readonly what: string; readonly mend: string }>();
  const take = useCallback(
    async (files: readonly File[]) => {
      const opened = await open(files, words.start);
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
