// Owns the page that reads a tag: by the camera, or typed; what it hangs on is opened.

import { useEffect, useRef, useState } from "preact/hooks";
import { useLocation, useSearch } from "wouter-preact";
import { actsOf } from "../../ledger/index.ts";
import { readTag, tagsOf } from "../../tag/index.ts";
import { useWords } from "../words/words.ts";
import { handPath } from "./address.ts";
import { useWork } from "./work.tsx";

/** Milliseconds between two looks at the camera's picture: often enough for a hand, seldom enough for the battery. */
const LOOK = 200;
/** Pixels across that are looked at. */
const ACROSS = 640;

/** What a code on the picture says; undefined where none is seen. */
type Reader = (picture: ImageData) => string | undefined;

const loadReader = async (): Promise<Reader> => {
  // A CommonJS package: what its types call the default of its default is the module itself.
  const { default: module } = await import("jsqr");
  const read = module as unknown as typeof module.default;
  return ({ data, width, height }) => read(data, width, height)?.data;
};

export const Scan = () => {
  const words = useWords();
  const { book } = useWork();
  const [, navigate] = useLocation();
  const video = useRef<HTMLVideoElement>(null);
  const given = new URLSearchParams(useSearch()).get("code");
  const [typed, setTyped] = useState(given ?? "");
  const [isDark, setDark] = useState(false);
  const [says, setSays] = useState<string>();
  const { ledger, run, brief } = book;

  /** Opens the step of what a tag hangs on; false where it is none of this run. */
  const open = (text: string): boolean => {
    const tag = readTag(text);
    const tags = tagsOf({ name: brief.vehicle, connections: brief.joints });
    const id = "code" in tag ? tags.connectionOf(tag.code) : undefined;
    const own = id === undefined ? [] : actsOf(ledger).filter(({ step }) => step.id === id);
    const at = own.find(({ over }) => !over) ?? own[0];
    if (id === undefined || ("code" in tag && tag.run !== undefined && tag.run !== run)) {
      setSays(words.hand.scanNone);
      return false;
    }
    navigate(handPath(run, "steps", at === undefined ? { find: id } : { step: String(at.step.number) }));
    return true;
  };
  const opened = useRef(open);
  opened.current = open;

  // An address that a tag holds was opened: nothing is left to be seen.
  useEffect(() => {
    if (given !== null) opened.current(given);
  }, [given]);

  useEffect(() => {
    const ended = new AbortController();
    let stream: MediaStream | undefined;
    const look = async (): Promise<void> => {
      const [read, given] = await Promise.all([
        loadReader(),
        navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" }, audio: false }),
      ]);
      stream = given;
      const seen = video.current;
      if (ended.signal.aborted || seen === null) {
        for (const track of given.getTracks()) track.stop();
        return;
      }
      seen.srcObject = given;
      await seen.play();
      const canvas = document.createElement("canvas");
      const pen = canvas.getContext("2d", { willReadFrequently: true });
      while (!ended.signal.aborted && pen !== null) {
        if (seen.videoWidth > 0) {
          canvas.width = ACROSS;
          canvas.height = Math.round((ACROSS * seen.videoHeight) / seen.videoWidth);
          pen.drawImage(seen, 0, 0, canvas.width, canvas.height);
          const text = read(pen.getImageData(0, 0, canvas.width, canvas.height));
          if (text !== undefined && opened.current(text)) return;
        }
        await new Promise((resolve) => setTimeout(resolve, LOOK));
      }
    };
    // No camera, or it may not be used: a code can be typed all the same.
    look().catch(() => {
      if (!ended.signal.aborted) setDark(true);
    });
    return () => {
      ended.abort();
      for (const track of stream?.getTracks() ?? []) track.stop();
    };
  }, []);

  return (
    <div class="scan one-step">
      <h1>{words.hand.scan}</h1>
      {isDark ? (
        <p class="notice">{words.hand.scanNoCamera}</p>
      ) : (
        <>
          <p>{words.hand.scanHow}</p>
          <video ref={video} muted playsInline aria-label={words.hand.scanHow} />
        </>
      )}
      {says === undefined ? null : (
        <p class="notice" role="alert">
          {says}
        </p>
      )}
      <form
        class="asking"
        onSubmit={(event) => {
          event.preventDefault();
          open(typed);
        }}
      >
        <label class="field">
          <span>{words.hand.code}</span>
          <input
            autoComplete="off"
            autoCapitalize="characters"
            required
            maxLength={40}
            value={typed}
            onInput={({ currentTarget }) => setTyped(currentTarget.value)}
          />
        </label>
        <button type="submit" class="main">
          {words.hand.enter}
        </button>
      </form>
    </div>
  );
};
