// Owns recording by the device's microphone: whether there is one, in what it records, begun and ended; and the seconds since.

import { useEffect, useState } from "preact/hooks";

/** Bits a second: speech is understood well, a minute is 180 kB. */
const RATE = 24_000;
/** What browsers record in, the smallest first. */
const TYPES = ["audio/webm;codecs=opus", "audio/ogg;codecs=opus", "audio/mp4"];

/** Undefined where the browser gives no page a microphone: over plain HTTP, or an old one. */
export const recordedAs = (): string | undefined =>
  "mediaDevices" in navigator && "MediaRecorder" in globalThis
    ? TYPES.find((type) => MediaRecorder.isTypeSupported(type))
    : undefined;

/** Seconds since a moment, counted while it is given. */
export const useSeconds = (since: number | undefined): number => {
  const [now, setNow] = useState(0);
  useEffect(() => {
    if (since === undefined) return;
    setNow(Date.now());
    const clock = setInterval(() => setNow(Date.now()), 250);
    return () => clearInterval(clock);
  }, [since]);
  return since === undefined ? 0 : Math.max(0, Math.floor((now - since) / 1000));
};

export interface Recording {
  readonly since: number;
  readonly stop: () => void;
}

interface Often {
  /** Milliseconds. */
  readonly every: number;
  /** Hears of all that was spoken so far. */
  readonly soFar: (spoken: Blob) => void;
}

/** @param often of a long recording, so that little is lost where it ends badly @throws DOMException where there is no microphone, or it may not be used */
export const record = async (type: string, onEnd: (spoken: Blob) => void, often?: Often): Promise<Recording> => {
  const stream = await navigator.mediaDevices.getUserMedia({ audio: true });
  const recorder = new MediaRecorder(stream, { mimeType: type, audioBitsPerSecond: RATE });
  const parts: Blob[] = [];
  const spoken = () => new Blob(parts, { type: type.split(";")[0] ?? type });
  recorder.addEventListener("dataavailable", ({ data }) => {
    parts.push(data);
    if (recorder.state === "recording") often?.soFar(spoken());
  });
  recorder.addEventListener("stop", () => {
    for (const track of stream.getTracks()) track.stop();
    onEnd(spoken());
  });
  recorder.start(often?.every);
  const stop = () => {
    if (recorder.state !== "inactive") recorder.stop();
  };
  return { since: Date.now(), stop };
};

/** Why nothing was recorded: the person or the browser refused the microphone, or there is none. */
export const lackOf = (error: unknown): "none" | "refused" =>
  error instanceof DOMException && /^(NotAllowed|Security)Error$/.test(error.name) ? "refused" : "none";
