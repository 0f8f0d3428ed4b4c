// Owns what is typed on its way to the model: kept on the device at once, read when the hands rest, and never lost when the page is left in between.

import { useEffect, useMemo, useRef } from "preact/hooks";
import { useModel } from "../shop/model.tsx";

/** Milliseconds of rest after which what was typed is read. */
const REST = 300;

export interface Typing {
  /** Gives the model what waits, without waiting for the rest. */
  readonly send: () => void;
  readonly type: (file: string, text: string) => void;
  /** The text of a file as it was typed last, read or not. */
  readonly latest: (file: string) => string;
  /** Nothing typed in this file is still on its way. */
  readonly isResting: (file: string) => boolean;
}

export const useTyping = (): Typing => {
  const model = useModel();
  const now = useRef(model);
  now.current = model;
  const waiting = useRef(new Map<string, string>());
  const timer = useRef<ReturnType<typeof setTimeout>>();
  const typing = useMemo((): Typing => {
    const send = () => {
      clearTimeout(timer.current);
      for (const [file, text] of waiting.current) now.current.change(file, text);
      waiting.current.clear();
    };
    const textOf = (file: string) => now.current.files.find(({ path }) => path === file)?.text ?? "";
    return {
      send,
      type(file, text) {
        const isOld = text === textOf(file);
        if (isOld && !waiting.current.delete(file)) return;
        if (!isOld) waiting.current.set(file, text);
        now.current.jot(file, text);
        clearTimeout(timer.current);
        timer.current = setTimeout(send, REST);
      },
      latest: (file) => waiting.current.get(file) ?? textOf(file),
      isResting: (file) => !waiting.current.has(file),
    };
  }, []);
  useEffect(() => typing.send, [typing]);
  return typing;
};
