// Owns what is entered beside the steps, each by one touch: waiting, fetching, a note, a photo, a finding; and the taking back of one's last entry.

import { useEffect, useRef } from "preact/hooks";
import { Link } from "wouter-preact";
import type { Entry } from "../../ledger/index.ts";
import { useWords } from "../words/words.ts";
import { handPath } from "./address.ts";
import { useOpened, useTyped } from "./half-done.ts";
import { namedIn, usePending } from "./pending.ts";
import { TakePhoto } from "./photos.tsx";
import { sayBody } from "./say.ts";
import { TakeVoice } from "./voices.tsx";
import { useWork } from "./work.tsx";

/** What is taken back with one touch, and no word of it is missed: not a gate, not the plan. */
const STAYS: ReadonlySet<string> = new Set([
  "passed",
  "approval",
  "override",
  "correction",
  "taken over",
  "handing over",
  "assigned",
  "settled",
]);
/** Entries among which one's last is looked for. */
const RECENT = 60;

export const Aside = ({ about }: { readonly about?: string }) => {
  const words = useWords();
  const { book, me, enter, tell } = useWork();
  const noting = useOpened<true>("note");
  const photos = usePending("photos");
  const voices = usePending("voices");
  if (me === undefined) return null;
  const { ledger } = book;
  // A load that was stopped is no waiting: it goes on from its own page alone.
  const hours = ledger
    .list("hours", "paused", "resumed")
    .filter(({ author, body }) => author === me.id && !(body.kind === "paused" && body.cause === "other"));
  const now = hours.at(-1);
  const paused = now?.body.kind === "paused" ? now : undefined;
  const last = lastOf(book.recent(RECENT), me.id, (entry) => ledger.isVoid(entry));
  const pause = (cause: "waiting" | "fetching") =>
    void enter({ kind: "paused", cause, ...(about === undefined ? {} : { about }) });
  if (paused !== undefined && paused.body.kind === "paused") {
    const since = new Date(paused.at).toTimeString().slice(0, 5);
    return (
      <div class="aside paused">
        <p class="large">
          {paused.body.cause === "fetching" ? words.hand.fetchingSince(since) : words.hand.waitingSince(since)}
        </p>
        <button type="button" class="main act" onClick={() => void enter({ kind: "resumed" })}>
          {words.hand.goesOn}
        </button>
      </div>
    );
  }
  return (
    <div class="aside">
      <Link class="button" href={handPath(book.run, "found", about === undefined ? {} : { about })}>
        {words.hand.found}
      </Link>
      <TakePhoto onFull={() => tell({ lack: "room" }, "")} />
      <button type="button" onClick={() => noting.open(true)}>
        {words.hand.note}
        {voices.taken.length === 0 ? "" : ` (${voices.taken.length})`}
      </button>
      <button type="button" onClick={() => pause("waiting")}>
        {words.hand.waiting}
      </button>
      <button type="button" onClick={() => pause("fetching")}>
        {words.hand.fetching}
      </button>
      <Link class="button" href={handPath(book.run, "scan")}>
        {words.hand.scan}
      </Link>
      {last === undefined ? null : (
        <button
          type="button"
          class="take-back"
          onClick={() => void enter({ kind: "correction", of: last.id, why: words.hand.why })}
        >
          {words.hand.takeBack(sayBody(words, book.brief, last.body))}
        </button>
      )}
      {noting.value === undefined ? null : (
        <Noting
          onEnter={(text) =>
            enter({
              kind: "note",
              text,
              ...(about === undefined ? {} : { about }),
              ...namedIn("photos", photos),
              ...namedIn("voices", voices),
            }).then((isEntered) => {
              if (!isEntered) return false;
              photos.used();
              voices.used();
              noting.shut();
              return true;
            })
          }
          onCancel={() => {
            voices.drop();
            noting.shut();
          }}
        />
      )}
    </div>
  );
};

const lastOf = (recent: readonly Entry[], person: string, isVoid: (entry: Entry) => boolean): Entry | undefined =>
  recent.findLast((entry) => entry.author === person && !STAYS.has(entry.body.kind) && !isVoid(entry));

/** Typed, spoken, or both. */
const Noting = ({
  onEnter,
  onCancel,
}: {
  /** True where it is entered. */
  readonly onEnter: (text: string) => Promise<boolean>;
  readonly onCancel: () => void;
}) => {
  const words = useWords();
  const { book, tell } = useWork();
  const isSpoken = usePending("voices").taken.length > 0;
  const [text, setText] = useTyped("note", "");
  const form = useRef<HTMLFormElement>(null);
  // It opens beneath the buttons, which on a small screen is beneath the edge.
  useEffect(() => form.current?.scrollIntoView({ block: "nearest" }), []);
  return (
    <form
      ref={form}
      class="asking"
      onSubmit={(event) => {
        event.preventDefault();
        const said = text.trim();
        if (said !== "" || isSpoken)
          void onEnter(said === "" ? words.hand.spoken : said).then((isEntered) => isEntered && setText(""));
      }}
    >
      <label class="field">
        <span>{words.hand.noteText}</span>
        <textarea
          rows={3}
          maxLength={4000}
          required={!isSpoken}
          value={text}
          onInput={({ currentTarget }) => setText(currentTarget.value)}
        />
      </label>
      <TakeVoice run={book.run} onFull={() => tell({ lack: "room" }, "")}>
        <button type="submit" class="main">
          {words.hand.enter}
        </button>
        <button
          type="button"
          onClick={() => {
            setText("");
            onCancel();
          }}
        >
          {words.hand.cancel}
        </button>
      </TakeVoice>
    </form>
  );
};
