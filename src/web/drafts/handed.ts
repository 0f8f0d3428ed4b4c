// Owns files that were dropped elsewhere and belong to a draft: they wait here until the page of the drafts takes them.

/** What was told, or a recording of it; a vehicle file is opened where it is dropped. */
export const TOLD = /\.(vtt|srt|txt|md|csv|tsv|mp3|m4a|aac|ogg|oga|opus|wav|flac|webm|mp4|mov|mkv)$/i;

let waiting: readonly File[] = [];

export const handToDrafts = (files: readonly File[]): void => {
  waiting = files;
};

/** What waits, once. */
export const takeHanded = (): readonly File[] => {
  const files = waiting;
  waiting = [];
  return files;
};
