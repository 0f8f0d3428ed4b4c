// Owns the draft as it is once nobody has changed it for a moment: what is worked out anew after a change waits for that.

import { useEffect, useState } from "preact/hooks";
import type { Files } from "../engine/asked.ts";
import { useModel } from "../shop/model.tsx";

/** Milliseconds without a change. */
const CALM = 300;

export const useCalm = (): Files => {
  const { files } = useModel();
  const [calm, setCalm] = useState(files);
  useEffect(() => {
    const timer = setTimeout(() => setCalm(files), CALM);
    return () => clearTimeout(timer);
  }, [files]);
  return calm;
};
