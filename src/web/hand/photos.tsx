// Owns photos in hand: taken, made small, kept on the device before they are told of; and shown again, from the device or the server.

import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import { useEffect, useRef, useState } from "preact/hooks";
import { keepPhoto } from "../device/carrier.ts";
import { openDrawer } from "../device/drawer.ts";
import { useWords } from "../words/words.ts";

/** Pixels of the longer side: a thread or a crack is still seen, and an hour of photos fits on the device. */
const LONGER = 1600;
const QUALITY = 0.8;

/** As it is kept: JPEG, turned upright. */
const small = async (file: Blob): Promise<Blob> => {
  const picture = await createImageBitmap(file);
  const scale = Math.min(1, LONGER / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext("2d")?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return new Promise((resolve, reject) =>
    canvas.toBlob((blob) => (blob === null ? reject(new Error("no picture")) : resolve(blob)), "image/jpeg", QUALITY),
  );
};

/** Keeps a photo on the device, and gives its SHA-256. @throws DOMException where the disk takes no more */
const takePhoto = async (run: string, file: Blob): Promise<string> => {
  const picture = await small(file);
  const digest = bytesToHex(sha256(new Uint8Array(await picture.arrayBuffer())));
  await keepPhoto(run, digest, picture);
  return digest;
};

/** Photos that were taken and go with what is entered next: of a run, wherever on the page they were taken. */
const pending = new Map<string, readonly string[]>();
const watchers = new Set<() => void>();

const change = (run: string, taken: readonly string[]) => {
  pending.set(run, taken);
  for (const watcher of watchers) watcher();
};

const NONE: readonly string[] = [];

export const usePhotos = (run: string) => {
  const [, draw] = useState(0);
  useEffect(() => {
    const watcher = () => draw((count) => count + 1);
    watchers.add(watcher);
    return () => void watchers.delete(watcher);
  }, []);
  const taken = pending.get(run) ?? NONE;
  return {
    taken,
    /** @throws DOMException where the disk takes no more */
    take: async (file: Blob) => change(run, [...(pending.get(run) ?? NONE), await takePhoto(run, file)]),
    used: () => change(run, NONE),
  };
};

export const TakePhoto = ({ run, onFull }: { readonly run: string; readonly onFull: () => void }) => {
  const words = useWords();
  const input = useRef<HTMLInputElement>(null);
  const { take, taken } = usePhotos(run);
  return (
    <>
      <button type="button" onClick={() => input.current?.click()}>
        {words.hand.photo}
        {taken.length === 0 ? "" : ` (${taken.length})`}
      </button>
      <input
        ref={input}
        class="unseen"
        type="file"
        accept="image/*"
        capture="environment"
        tabIndex={-1}
        aria-label={words.hand.photo}
        onChange={({ currentTarget }) => {
          for (const file of currentTarget.files ?? []) take(file).catch(onFull);
          currentTarget.value = "";
        }}
      />
    </>
  );
};

export const Photos = ({ digests, run }: { readonly digests: readonly string[]; readonly run: string }) =>
  digests.length === 0 ? null : (
    <div class="photos">
      {digests.map((digest) => (
        <Photo key={digest} digest={digest} run={run} />
      ))}
    </div>
  );

const Photo = ({ digest, run }: { readonly digest: string; readonly run: string }) => {
  const words = useWords();
  const [url, setUrl] = useState<string>();
  useEffect(() => {
    let made: string | undefined;
    let gone = false;
    photoOf(run, digest).then(
      (bytes) => {
        if (gone) return;
        made = URL.createObjectURL(bytes);
        setUrl(made);
      },
      // It is on the device that took it, or the line is away: it comes when it can.
      () => undefined,
    );
    return () => {
      gone = true;
      if (made !== undefined) URL.revokeObjectURL(made);
    };
  }, [digest, run]);
  return url === undefined ? (
    <span class="photo-missing">{words.hand.photo} …</span>
  ) : (
    <a href={url} target="_blank" rel="noreferrer">
      <img src={url} alt={words.hand.photoAtRelease} />
    </a>
  );
};

/** From the device; else from the server, and then kept on the device. */
const photoOf = async (run: string, digest: string): Promise<Blob> => {
  const drawer = await openDrawer();
  const kept = await drawer.get("photos", digest);
  if (kept !== undefined) return kept.bytes;
  const answer = await fetch(`/api/photos/${digest}`);
  if (!answer.ok) throw new Error("not there");
  const bytes = await answer.blob();
  await drawer.put("photos", { digest, run, bytes });
  return bytes;
};
