// Owns photos in hand: taken, made small, kept on the device before they are told of; and shown again, from the device or the server.

import { useEffect, useRef, useState } from "preact/hooks";
import { attachedOf } from "../device/attached.ts";
import { useWords } from "../words/words.ts";
import { usePending } from "./pending.ts";

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

export const TakePhoto = ({ onFull }: { readonly onFull: () => void }) => {
  const words = useWords();
  const input = useRef<HTMLInputElement>(null);
  const { take, taken, drop } = usePending("photos");
  return (
    <>
      <button type="button" onClick={() => input.current?.click()}>
        {words.hand.photo}
        {taken.length === 0 ? "" : ` (${taken.length})`}
      </button>
      {taken.length === 0 ? null : (
        <button type="button" onClick={drop}>
          {words.hand.dropPhoto(taken.length)}
        </button>
      )}
      <input
        ref={input}
        class="unseen"
        type="file"
        accept="image/*"
        capture="environment"
        tabIndex={-1}
        aria-label={words.hand.photo}
        onChange={({ currentTarget }) => {
          for (const file of currentTarget.files ?? []) small(file).then(take).catch(onFull);
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
    attachedOf(run, digest, "photos").then(
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
