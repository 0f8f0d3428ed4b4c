// Owns the recording by the device's microphone: begun, ended, and put on the device every few seconds, so that nothing of a long talk is lost.

import { useCallback, useEffect, useRef, useState } from "preact/hooks";
import type { MediaKept } from "./kept.ts";

/** Milliseconds after which what was recorded so far is kept. */
const OFTEN = 5000;

export interface Recorder {
  /** This browser has a microphone to give, and a way to record. */
  readonly canRecord: boolean;
  readonly isRecording: boolean;
  readonly isRefused: boolean;
  /** Seconds since it began. */
  readonly seconds: number;
  readonly begin: () => Promise<void>;
  readonly end: () => void;
}

const canRecord = (): boolean =>
  typeof MediaRecorder !== "undefined" && navigator.mediaDevices?.getUserMedia !== undefined;

/** @param onKept hears of it every few seconds, and at its end */
export const useRecorder = (name: string, onKept: (media: MediaKept, isWhole: boolean) => void): Recorder => {
  const [isRecording, setRecording] = useState(false);
  const [isRefused, setRefused] = useState(false);
  const [seconds, setSeconds] = useState(0);
  const running = useRef<MediaRecorder>();
  const kept = useRef(onKept);
  kept.current = onKept;

  const end = useCallback(() => {
    if (running.current?.state === "recording") running.current.stop();
  }, []);
  const begin = useCallback(async () => {
    let stream: MediaStream;
    try {
      stream = await navigator.mediaDevices.getUserMedia({ audio: true });
    } catch {
      setRefused(true);
      return;
    }
    setRefused(false);
    const recorder = new MediaRecorder(stream);
    const pieces: Blob[] = [];
    const whole = () => ({ name, bytes: new Blob(pieces, { type: recorder.mimeType }) });
    recorder.addEventListener("dataavailable", ({ data }) => {
      if (data.size === 0) return;
      pieces.push(data);
      kept.current(whole(), false);
    });
    recorder.addEventListener("stop", () => {
      for (const track of stream.getTracks()) track.stop();
      running.current = undefined;
      setRecording(false);
      kept.current(whole(), true);
    });
    running.current = recorder;
    recorder.start(OFTEN);
    setSeconds(0);
    setRecording(true);
  }, [name]);

  useEffect(() => {
    if (!isRecording) return;
    const began = performance.now();
    const clock = setInterval(() => setSeconds((performance.now() - began) / 1000), 250);
    return () => clearInterval(clock);
  }, [isRecording]);
  useEffect(() => end, [end]);
  return { canRecord: canRecord(), isRecording, isRefused, seconds, begin, end };
};
