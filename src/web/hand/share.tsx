// Owns the sharing out of the rest: a schedule for those who are there, worked out on this device, and entered, so that everybody sees the same.

import { useState } from "preact/hooks";
import { shareOut } from "../../ledger/index.ts";
import { enter } from "../device/entering.ts";
import { ask } from "../engine/engine.ts";
import { useWords } from "../words/words.ts";
import { useWork } from "./work.tsx";

/** Of search: people wait for it with tools in their hands. */
const SECONDS = 2;

export const Share = ({ isShared }: { readonly isShared: boolean }) => {
  const words = useWords();
  const { book, me, tell } = useWork();
  const [isBusy, setBusy] = useState(false);
  const [isNone, setNone] = useState(false);
  if (me === undefined || me.roles.includes("reader")) return null;
  const share = async () => {
    setBusy(true);
    setNone(false);
    try {
      const { kept, brief, ledger } = book;
      const said = await ask("rest", kept.files, {
        asked: kept.asked,
        people: kept.people,
        brief,
        entries: ledger.all(),
        opened: kept.opened,
        now: Date.now(),
        seconds: SECONDS,
      });
      setNone(said.plan === undefined);
      if (said.plan === undefined) return;
      for (const body of shareOut(brief, ledger.planInForce(), said.plan)) {
        const entered = await enter(book, me.id, body);
        if (!tell(entered, words.hand.shared)) return;
      }
    } finally {
      setBusy(false);
    }
  };
  return (
    <div class="share">
      <button type="button" disabled={isBusy} onClick={() => void share()}>
        {isBusy ? words.hand.sharing : isShared ? words.hand.shareAnew : words.hand.share}
      </button>
      {isNone ? <p class="notice">{words.hand.shareNone}</p> : null}
    </div>
  );
};
