// Owns spoken notes in hand: recorded where the device has a microphone, on its disk before they are told of, and heard again, from the device or the server.

import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { attachedOf } from "../device/attached.ts";
import { lackOf, type Recording, record, recordedAs, useSeconds } from "../device/microphone.ts";
import { useWords } from "../words/words.ts";
import { usePending } from "./pending.ts";

/** Seconds: a note, and no speech; the longest is far below what the server takes. */
const LONGEST = 60;
/** @param children what stands in the same row */
export const TakeVoice = ({
  run,
  onFull,
  children,
}: {
  readonly run: string;
  readonly onFull: () => void;
  readonly children: ComponentChildren;
}) => {
  const words = useWords();
  const { take, taken, drop } = usePending("voices");
  const [recording, setRecording] = useState<Recording>();
  const [lack, setLack] = useState<"none" | "refused">();
  const isGone = useRef(false);
  const held = useRef<Recording>();
  const seconds = useSeconds(recording?.since);
  const type = recordedAs();
  // Whoever leaves the page in the middle has what was said until then.
  useEffect(
    () => () => {
      isGone.current = true;
      held.current?.stop();
    },
    [],
  );
  useEffect(() => {
    if (recording === undefined) return;
    const late = setTimeout(recording.stop, LONGEST * 1000);
    return () => clearTimeout(late);
  }, [recording]);
  const start = async (as: string) => {
    setLack(undefined);
    try {
      const begun = await record(as, (spoken) => {
        if (!isGone.current) setRecording(undefined);
        if (spoken.size > 0) take(spoken).catch(onFull);
      });
      held.current = begun;
      if (isGone.current) begun.stop();
      else setRecording(begun);
    } catch (error) {
      setLack(lackOf(error));
    }
  };
  const says =
    lack === "refused" ? words.hand.voiceRefused : lack === "none" || type === undefined ? words.hand.voiceNone : "";
  return (
    <div class="spoken">
      <div class="row">
        {children}
        {type === undefined ? null : recording === undefined ? (
          <button type="button" onClick={() => void start(type)}>
            {words.hand.voice}
          </button>
        ) : (
          <button type="button" class="main" aria-pressed="true" onClick={recording.stop}>
            {words.hand.stopVoice} <small>{words.hand.voiceSeconds(seconds, LONGEST)}</small>
          </button>
        )}
        {taken.map((digest) => (
          <Voice key={digest} digest={digest} run={run} />
        ))}
        {taken.length === 0 ? null : (
          <button type="button" onClick={drop}>
            {words.hand.dropVoice}
          </button>
        )}
      </div>
      <p role="status" class={says === "" ? "unseen" : "notice"}>
        {says !== ""
          ? says
          : recording !== undefined
            ? words.hand.voiceOn
            : taken.length > 0
              ? words.hand.voiceKept
              : ""}
      </p>
    </div>
  );
};

export const Voices = ({ digests, run }: { readonly digests: readonly string[]; readonly run: string }) =>
  digests.length === 0 ? null : (
    <div class="row">
      {digests.map((digest) => (
        <Voice key={digest} digest={digest} run={run} />
      ))}
    </div>
  );

const Voice = ({ digest, run }: { readonly digest: string; readonly run: string }) => {
  const words = useWords();
  const [since, setSince] = useState<number>();
  const [lack, setLack] = useState<"away" | "unheard">();
  const sound = useRef<HTMLAudioElement>();
  const seconds = useSeconds(since);
  const hush = () => {
    sound.current?.pause();
    if (sound.current !== undefined) URL.revokeObjectURL(sound.current.src);
    sound.current = undefined;
    setSince(undefined);
  };
  useEffect(() => () => hush(), []);
  const hear = async () => {
    setLack(undefined);
    let spoken: Blob;
    try {
      spoken = await attachedOf(run, digest, "voices");
    } catch {
      // It is on the device that recorded it, or the line is away.
      setLack("away");
      return;
    }
    const made = new Audio(URL.createObjectURL(spoken));
    sound.current = made;
    made.addEventListener("ended", hush);
    try {
      await made.play();
      setSince(Date.now());
    } catch {
      hush();
      setLack("unheard");
    }
  };
  return (
    <button
      type="button"
      aria-pressed={since !== undefined}
      onClick={() => (since === undefined ? void hear() : hush())}
    >
      {since === undefined ? words.hand.hear : words.hand.stopVoice}
      {since === undefined ? null : <small>{seconds} s</small>}
      {lack === undefined ? null : (
        <small role="status">{lack === "away" ? words.hand.voiceAway : words.hand.voiceUnheard}</small>
      )}
    </button>
  );
};
