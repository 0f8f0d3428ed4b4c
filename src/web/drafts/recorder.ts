// Owns the recording of a talk: put on the device every few seconds, so that nothing of a long one is lost.

import { useCallback, useEffect, useRef, useState } from "preact/hooks";
import { lackOf, type Recording, record, recordedAs, useSeconds } from "../device/microphone.ts";

/** Milliseconds after which what was recorded so far is kept. */
const OFTEN = 5000;

export interface Recorder {
  /** This browser has a microphone to give, and a way to record. */
  readonly canRecord: boolean;
  readonly isRecording: boolean;
  readonly lack: "none" | "refused" | undefined;
  /** Whole seconds since it began. */
  readonly seconds: number;
  readonly begin: () => Promise<void>;
  readonly end: () => void;
}

/** @param onKept hears of it every few seconds, and at its end */
export const useRecorder = (onKept: (spoken: Blob, isWhole: boolean) => void): Recorder => {
  const [recording, setRecording] = useState<Recording>();
  const [lack, setLack] = useState<Recorder["lack"]>();
  const running = useRef<Recording>();
  const isGone = useRef(false);
  const kept = useRef(onKept);
  kept.current = onKept;
  const type = recordedAs();
  const end = useCallback(() => running.current?.stop(), []);
  const begin = useCallback(async () => {
    if (type === undefined) return;
    setLack(undefined);
    try {
      const begun = await record(
        type,
        (spoken) => {
          running.current = undefined;
          if (!isGone.current) setRecording(undefined);
          kept.current(spoken, true);
        },
        { every: OFTEN, soFar: (spoken) => kept.current(spoken, false) },
      );
      running.current = begun;
      if (isGone.current) begun.stop();
      else setRecording(begun);
    } catch (error) {
      setLack(lackOf(error));
    }
  }, [type]);
  // Whoever leaves the page in the middle has what was said until then.
  useEffect(
    () => () => {
      isGone.current = true;
      end();
    },
    [end],
  );
  const seconds = useSeconds(recording?.since);
  return { canRecord: type !== undefined, isRecording: recording !== undefined, lack, seconds, begin, end };
};
