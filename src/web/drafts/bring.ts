// Owns the way of what was told to a draft: files that are dropped, opened or pasted are listened to by the engine, and a draft of them is kept on the device.

import { useCallback, useState } from "preact/hooks";
import { useLocation } from "wouter-preact";
import {
  beginDraft,
  type Column,
  type Decode,
  type Heard,
  lettersOf,
  type OddLetters,
  type Refusal,
  type Remark,
} from "../../draft/index.ts";
import type { ModelFile } from "../engine/asked.ts";
import { ask } from "../engine/engine.ts";
import { keep, mine } from "../shop/shelf.ts";
import { useWords } from "../words/words.ts";
import { keepDraft, keepMedia, type Narration } from "./kept.ts";

/** Bytes of a text; more is no narration. */
const MOST = 8_000_000;
/** What is taken on the page of the drafts: a vehicle file too. */
export const TAKEN = /\.(vtt|srt|txt|md|csv|tsv|mp3|m4a|aac|ogg|oga|opus|wav|flac|webm|mp4|mov|mkv|ya?ml)$/i;
const MEDIA = /\.(mp3|m4a|aac|ogg|oga|opus|wav|flac|webm|mp4|mov|mkv)$/i;
const isMedia = ({ type, name }: File): boolean => /^(audio|video)\//.test(type) || MEDIA.test(name);
const isVehicle = (text: string): boolean => /^format:\s*unmoor\/1/m.test(text);

/** A text that was brought, and what its letters were taken for where they are no sound UTF-8. */
export interface Brought extends ModelFile {
  readonly odd?: OddLetters;
}

export interface Told {
  readonly text: string;
  readonly narrations: readonly Narration[];
  readonly remarks: readonly Remark[];
  readonly heard?: Heard;
}

/** A table whose columns have to be named first. */
export interface Unnamed {
  readonly files: readonly Brought[];
  readonly columns: readonly string[];
}

type Answer = { readonly told: Told } | { readonly refused: readonly Refusal[]; readonly unnamed?: Unnamed };

/** Listens to texts. A vehicle file among them is gone on with. */
export const listen = async (
  files: readonly Brought[],
  name: string,
  columns?: Readonly<Record<string, Column>>,
): Promise<Answer> => {
  const vehicle = files.find(({ text }) => isVehicle(text));
  if (vehicle !== undefined) return { told: { text: vehicle.text, narrations: [], remarks: [] } };
  const asked = files.map(({ path, text }) => ({ path, text }));
  const { refused, made } = await ask("draft", asked, { name, ...(columns === undefined ? {} : { columns }) });
  if (made === undefined) {
    const header = refused[0]?.columns;
    return {
      refused,
      ...(header === undefined || columns !== undefined ? {} : { unnamed: { files, columns: header } }),
    };
  }
  const narrations = files.map(({ path, text, odd }) => ({
    file: path,
    text,
    ...(odd === undefined ? {} : { odd }),
    kind: made.kinds.find(({ file }) => file === path)?.kind ?? "prose",
  }));
  const { text, remarks, heard } = made;
  return { told: { text, narrations, remarks, ...(heard === undefined ? {} : { heard }) } };
};

const decode: Decode = (bytes, encoding) => new TextDecoder(encoding).decode(bytes);

/** Texts and the recording among files; or why one cannot be taken. */
export const sortOut = async (
  given: readonly File[],
  tooLarge: (name: string, mb: number) => Refusal,
): Promise<
  { readonly files: readonly Brought[]; readonly media?: File } | { readonly refused: readonly Refusal[] }
> => {
  const media = given.find(isMedia);
  const texts = given.filter((file) => !isMedia(file));
  const large = texts.find(({ size }) => size > MOST);
  if (large !== undefined) return { refused: [tooLarge(large.name, Math.round(large.size / 1e6))] };
  const read = await Promise.all(
    texts.map(async (file) => {
      const letters = lettersOf(new Uint8Array(await file.arrayBuffer()), file.name, decode);
      return "text" in letters ? { path: file.name, ...letters } : letters;
    }),
  );
  const refused = read.filter((one) => "what" in one);
  if (refused.length > 0) return { refused };
  const files = read.filter((one) => "text" in one);
  return { files, ...(media === undefined ? {} : { media }) };
};

/** A name of the device's own that is not taken. */
const freeId = async (from: string): Promise<string> => {
  const stem =
    from
      .trim()
      .replace(/(\.vehicle)?\.\w+$/i, "")
      .replaceAll("/", "-") || "draft";
  const taken = new Set((await mine()).map(({ id }) => id));
  let id = stem;
  for (let n = 2; taken.has(id); n += 1) id = `${stem}-${n}`;
  return id;
};

/** Puts a draft on the device. @returns its name there */
export const beginHere = async (
  from: string,
  { text, narrations, remarks, heard }: Told,
  media?: File,
): Promise<string> => {
  const id = await freeId(from);
  const at = Date.now();
  await keep({ from: "mine", id }, { files: [{ path: `${id}.vehicle.yaml`, text }], madeFrom: 0, at });
  const told = heard === undefined ? {} : { heard: [heard] };
  await keepDraft(id, { narrations, typed: [], remarks, ...told, history: { texts: [text], at: 0 }, at });
  if (media !== undefined) await keepMedia(id, { name: media.name, bytes: media });
  return id;
};

export interface Bringing {
  readonly busy: boolean;
  readonly refused: readonly Refusal[];
  readonly unnamed: Unnamed | undefined;
  readonly take: (files: readonly File[], name?: string) => Promise<void>;
  readonly hear: (files: readonly Brought[], name: string, columns?: Readonly<Record<string, Column>>) => Promise<void>;
}

/** Brings what was told and goes to its draft, or says why there is none. */
export const useBring = (): Bringing => {
  const words = useWords();
  const [, navigate] = useLocation();
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<readonly Refusal[]>([]);
  const [unnamed, setUnnamed] = useState<Unnamed>();
  const bring = useCallback(
    async (
      files: readonly Brought[],
      name: string,
      columns: Readonly<Record<string, Column>> | undefined,
      media?: File,
    ) => {
      setBusy(true);
      setRefused([]);
      try {
        // A recording alone: there is nothing to listen to yet, and words come as they are typed.
        const heard: Answer =
          files.length === 0 && media !== undefined
            ? {
                told: {
                  text: beginDraft(name || media.name, words.drafts.unnamed, words.drafts),
                  narrations: [],
                  remarks: [],
                },
              }
            : await listen(files, name === "" ? words.drafts.name : name, columns);
        if ("told" in heard)
          navigate(
            `/draft/${encodeURIComponent(await beginHere(name || (files[0]?.path ?? media?.name ?? "draft"), heard.told, media))}`,
          );
        else {
          setRefused(heard.refused);
          setUnnamed(heard.unnamed);
        }
      } finally {
        setBusy(false);
      }
    },
    [words, navigate],
  );
  const take = useCallback(
    async (given: readonly File[], name = "") => {
      const sorted = await sortOut(given, (file, mb) => ({
        what: words.drafts.tooLarge(file, mb),
        mend: words.drafts.tooLargeMend,
      }));
      if ("refused" in sorted) setRefused(sorted.refused);
      else await bring(sorted.files, name, undefined, sorted.media);
    },
    [bring, words],
  );
  const hear = useCallback(
    (files: readonly Brought[], name: string, columns?: Readonly<Record<string, Column>>) =>
      bring(files, name, columns),
    [bring],
  );
  return { busy, refused, unnamed, take, hear };
};
