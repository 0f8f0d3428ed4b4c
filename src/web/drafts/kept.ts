// Owns what this device keeps of a draft beside its vehicle file: what was told, what is open, what can be undone, and its recording.

import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { Heard, History, OddLetters, Remark } from "../../draft/index.ts";

export interface Narration {
  readonly file: string;
  readonly text: string;
  /** What it was taken for: captions, prose … */
  readonly kind: string;
  /** What its letters were taken for, where they are no sound UTF-8. */
  readonly odd?: OddLetters;
}

/** A line that was typed and is not in the draft yet; with the second of the recording that it belongs to. */
export interface TypedLine {
  readonly text: string;
  readonly time?: number;
}

export interface DraftKept {
  readonly narrations: readonly Narration[];
  readonly typed: readonly TypedLine[];
  /** What was not said when it was told. */
  readonly remarks: readonly Remark[];
  /** What they are thought anew of; drafts kept by an older version have none. */
  readonly heard?: readonly Heard[];
  /** Remarks that were put aside, by their names. */
  readonly aside?: readonly string[];
  readonly history: History;
  readonly at: number;
}

export interface MediaKept {
  readonly name: string;
  readonly bytes: Blob;
}

interface Drafts extends DBSchema {
  readonly drafts: { readonly key: string; readonly value: DraftKept };
  readonly media: { readonly key: string; readonly value: MediaKept };
}

let opened: Promise<IDBPDatabase<Drafts>> | undefined;
const open = (): Promise<IDBPDatabase<Drafts>> => {
  opened ??= openDB<Drafts>("unmoor-drafts", 1, {
    upgrade(shelf) {
      shelf.createObjectStore("drafts");
      shelf.createObjectStore("media");
    },
  });
  return opened;
};

/** Where the device keeps nothing they hold until the page is left. */
const drafts = new Map<string, DraftKept>();
const media = new Map<string, MediaKept>();

const tried = async <T>(act: (shelf: IDBPDatabase<Drafts>) => Promise<T>): Promise<T | undefined> => {
  try {
    return await act(await open());
  } catch {
    return undefined;
  }
};

export const keepDraft = async (id: string, kept: DraftKept): Promise<void> => {
  drafts.set(id, kept);
  await tried((shelf) => shelf.put("drafts", kept, id));
};

export const takeDraft = async (id: string): Promise<DraftKept | undefined> =>
  drafts.get(id) ?? (await tried((shelf) => shelf.get("drafts", id)));

export const keepMedia = async (id: string, kept: MediaKept): Promise<void> => {
  media.set(id, kept);
  await tried((shelf) => shelf.put("media", kept, id));
};

export const takeMedia = async (id: string): Promise<MediaKept | undefined> =>
  media.get(id) ?? (await tried((shelf) => shelf.get("media", id)));

export const dropMedia = async (id: string): Promise<void> => {
  media.delete(id);
  await tried((shelf) => shelf.delete("media", id));
};

export const dropDraft = async (id: string): Promise<void> => {
  drafts.delete(id);
  await tried((shelf) => shelf.delete("drafts", id));
  await dropMedia(id);
};

/** Names of the drafts, the latest first. */
export const listDrafts = async (): Promise<readonly string[]> => {
  const found = new Map([...drafts].map(([id, { at }]) => [id, at] as const));
  await tried(async (shelf) => {
    for (const id of await shelf.getAllKeys("drafts")) found.set(id, (await shelf.get("drafts", id))?.at ?? 0);
  });
  return [...found].sort(([, a], [, b]) => b - a).map(([id]) => id);
};
