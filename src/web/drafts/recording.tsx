// Owns the recording of what was told: opened or made here, kept on the device, played in step with its captions; and the words that are typed along.

import { useQuery, useQueryClient } from "@tanstack/preact-query";
import type { Ref } from "preact";
import { useCallback, useEffect, useImperativeHandle, useRef, useState } from "preact/hooks";
import { useWords } from "../words/words.ts";
import { dropMedia, keepMedia, type MediaKept, type TypedLine, takeMedia } from "./kept.ts";
import { clock } from "./passages.ts";
import { useRecorder } from "./recorder.ts";

export interface Player {
  readonly playFrom: (second: number) => void;
}

/** The recording of a draft, and changing it. */
export const useMedia = (id: string) => {
  const queries = useQueryClient();
  const kept = useQuery({
    queryKey: ["media", id],
    queryFn: async () => (await takeMedia(id)) ?? null,
    staleTime: Number.POSITIVE_INFINITY,
  });
  const put = useCallback(
    (media: MediaKept | undefined, isShown = true) => {
      void (media === undefined ? dropMedia(id) : keepMedia(id, media));
      if (isShown) queries.setQueryData(["media", id], media ?? null);
    },
    [id, queries],
  );
  return [kept.data ?? undefined, put] as const;
};

interface RecordingProps {
  readonly media: MediaKept | undefined;
  readonly onMedia: (media: MediaKept | undefined, isShown?: boolean) => void;
  readonly player: Ref<Player>;
  readonly onTime: (second: number) => void;
  readonly typed: readonly TypedLine[];
  readonly busy: boolean;
  readonly onType: (typed: readonly TypedLine[]) => void;
  readonly onDraft: () => void;
}

export const Recording = ({ media, onMedia, player, onTime, typed, busy, onType, onDraft }: RecordingProps) => {
  const words = useWords();
  const input = useRef<HTMLInputElement>(null);
  const element = useRef<HTMLMediaElement>(null);
  const [address, setAddress] = useState<string>();
  const [isFaulty, setFaulty] = useState(false);
  const recorder = useRecorder((bytes, isWhole) => {
    if (bytes.size > 0) onMedia({ name: words.drafts.recording, bytes }, isWhole);
  });
  useEffect(() => {
    if (media === undefined) return;
    const made = URL.createObjectURL(media.bytes);
    setAddress(made);
    setFaulty(false);
    return () => {
      setAddress(undefined);
      URL.revokeObjectURL(made);
    };
  }, [media]);
  useImperativeHandle(
    player,
    () => ({
      playFrom(second: number) {
        const playing = element.current;
        if (playing === null) return;
        playing.currentTime = second;
        void playing.play().catch(() => undefined);
      },
    }),
    [],
  );
  const isVideo = media?.bytes.type.startsWith("video/") === true;
  const shared = {
    ref: element as never,
    src: address,
    controls: true,
    "aria-label": words.drafts.recording,
    onTimeUpdate: () => onTime(element.current?.currentTime ?? 0),
    onError: () => setFaulty(true),
  };
  const secondNow = (): number | undefined =>
    recorder.isRecording ? recorder.seconds : media === undefined ? undefined : element.current?.currentTime;
  return (
    <div class="recording">
      {media === undefined || address === undefined || recorder.isRecording ? null : (
        <>
          {/* The captions stand beside it, as passages that go along. */}
          {isVideo ? <video {...shared} playsInline /> : <audio {...shared} />}
          {isFaulty ? (
            <p class="notice small" role="alert">
              {words.drafts.mediaFault(media.name)}
            </p>
          ) : null}
        </>
      )}
      <p class="row">
        {recorder.isRecording ? (
          <button type="button" class="main" onClick={recorder.end}>
            {words.drafts.stop}
          </button>
        ) : (
          <>
            <button type="button" onClick={() => input.current?.click()}>
              {words.drafts.media}
            </button>
            {recorder.canRecord ? (
              <button type="button" onClick={() => void recorder.begin()}>
                {words.drafts.record}
              </button>
            ) : null}
            {media === undefined ? null : (
              <button type="button" class="plain small" onClick={() => onMedia(undefined)}>
                {words.drafts.mediaRemove}
              </button>
            )}
          </>
        )}
        <input
          ref={input}
          class="unseen"
          type="file"
          accept="audio/*,video/*"
          aria-label={words.drafts.media}
          tabIndex={-1}
          onChange={({ currentTarget }) => {
            const [file] = currentTarget.files ?? [];
            if (file !== undefined) onMedia({ name: file.name, bytes: file });
            currentTarget.value = "";
          }}
        />
      </p>
      <p class="small soft" role="status">
        {recorder.isRecording
          ? words.drafts.recorded(clock(recorder.seconds))
          : recorder.lack !== undefined
            ? recorder.lack === "refused"
              ? words.drafts.microphoneRefused
              : words.drafts.noMicrophone
            : media === undefined
              ? recorder.canRecord
                ? ""
                : words.drafts.noMicrophone
              : words.drafts.mediaKept(media.name)}
      </p>
      <Typing typed={typed} busy={busy} secondNow={secondNow} onType={onType} onDraft={onDraft} />
    </div>
  );
};

/** Words that are typed along, each line at the second at which it was begun. */
const Typing = ({
  typed,
  busy,
  secondNow,
  onType,
  onDraft,
}: Pick<RecordingProps, "typed" | "busy" | "onType" | "onDraft"> & {
  readonly secondNow: () => number | undefined;
}) => {
  const words = useWords();
  const [text, setText] = useState("");
  const [time, setTime] = useState<number>();
  return (
    <form
      class="typing"
      onSubmit={(event) => {
        event.preventDefault();
        const lines = text.split("\n").filter((line) => line.trim() !== "");
        if (lines.length === 0) return;
        onType([...typed, ...lines.map((line) => ({ text: line.trim(), ...(time === undefined ? {} : { time }) }))]);
        setText("");
        setTime(undefined);
      }}
    >
      <label class="field">
        <span>{time === undefined ? words.drafts.typed : words.drafts.typedAt(clock(time))}</span>
        <textarea
          rows={2}
          value={text}
          onInput={({ currentTarget: { value } }) => {
            if (text === "") setTime(secondNow());
            setText(value);
          }}
          onKeyDown={(event) => {
            if (event.key === "Escape") event.currentTarget.blur();
            if (event.key !== "Enter" || event.shiftKey) return;
            event.preventDefault();
            event.currentTarget.form?.requestSubmit();
          }}
        />
      </label>
      <p class="row">
        <button type="submit" disabled={text.trim() === ""}>
          {words.drafts.put}
        </button>
        {typed.length === 0 ? null : (
          <>
            <button type="button" class={busy ? "main busy" : "main"} disabled={busy} onClick={onDraft}>
              {words.drafts.draftTyped}
            </button>
            <button type="button" class="plain small" onClick={() => onType(typed.slice(0, -1))}>
              {words.drafts.dropTyped}
            </button>
          </>
        )}
      </p>
      {typed.length === 0 ? null : (
        <div class="waiting-lines" role="status">
          <p class="small soft">{words.drafts.waiting(typed.length)}</p>
          <ul>
            {typed.map((line, n) => (
              <li key={n}>
                {line.time === undefined ? null : <small>{clock(line.time)} </small>}
                {line.text}
              </li>
            ))}
          </ul>
        </div>
      )}
      <p class="small soft">{words.drafts.noRecogniser}</p>
    </form>
  );
};
