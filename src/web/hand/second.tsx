// Owns the second person's part on a device in another's hands: who looks, his PIN, and what he found.

import { useEffect, useRef, useState } from "preact/hooks";
import { type Act, type Body, type BriefPerson, Names } from "../../ledger/index.ts";
import { enterAsSecond } from "../device/entering.ts";
import { useWords } from "../words/words.ts";
import { Asking } from "./asking.tsx";
import { type Opened, useOpened } from "./half-done.ts";
import { PinPad } from "./pin-pad.tsx";
import { aboutOf, sayAct, sayBody } from "./say.ts";
import { keepKeys } from "./top.ts";
import { useWork } from "./work.tsx";

/** Who had a hand in what an act is about, so that he is no second person for it. */
export const useHandsIn = (): ((about: string) => ReadonlySet<string>) => {
  const { book } = useWork();
  return (about) => {
    const doer = book.ledger.task(about).last?.author;
    return new Set([...book.ledger.joint(about).hands, ...(doer === undefined ? [] : [doer])]);
  };
};

/** An act that only another one may enter: he does, where it is his device; else with his PIN. */
export const BySecond = ({ act }: { readonly act: Act }) => {
  const words = useWords();
  const { book, me, enter } = useWork();
  const handsIn = useHandsIn();
  const about = aboutOf(act.body) ?? "";
  const asked = useOpened<Confirmed>("second");
  const label = new Names(book.brief).label(about);
  const isMine = me !== undefined && !handsIn(about).has(me.id);
  const give = async (body: Body): Promise<boolean> => {
    if (isMine) return await enter(body);
    asked.open({ body });
    return false;
  };
  // Another one may have entered it meanwhile: then what was opened is of a step before.
  const { body } = asked.value ?? {};
  if (body?.kind === act.body.kind && aboutOf(body) === about) return <Confirm asked={asked} body={body} />;
  const isLook = act.body.kind === "verified";
  return (
    <div class="by-second">
      <p>
        {isLook ? words.hand.secondLooks : words.hand.secondReads}: <b>{label}</b>
      </p>
      {act.asks === undefined ? (
        <>
          <button type="button" class="main act" onClick={() => void give(act.body)}>
            {sayAct(words, book.brief, act.body)}
          </button>
          {act.body.kind === "verified" ? (
            <button
              type="button"
              class="act"
              onClick={() => void give({ kind: "verified", at: about, found: "loose" })}
            >
              {words.hand.notMade}
            </button>
          ) : null}
        </>
      ) : (
        <Asking act={act} onEnter={give} />
      )}
    </div>
  );
};

/** What a second person confirms, and who of those who may was chosen. */
export interface Confirmed {
  readonly body: Body;
  readonly person?: string;
}

/** Who confirms, and his PIN. */
export const Confirm = ({
  asked,
  body,
  able: allowed,
}: {
  readonly asked: Opened<Confirmed>;
  readonly body: Body;
  /** Who may at all, where that is not everybody. */
  readonly able?: readonly BriefPerson[];
}) => {
  const words = useWords();
  const { book, line, me, paired, tell } = useWork();
  const handsIn = useHandsIn();
  const had = handsIn(aboutOf(body) ?? "");
  const able = (allowed ?? book.brief.people).filter(({ id }) => id !== me?.id && !had.has(id));
  const person = able.length === 1 ? able[0]?.id : able.find(({ id }) => id === asked.value?.person)?.id;
  const [isBusy, setBusy] = useState(false);
  const place = useRef<HTMLDivElement>(null);
  // It opens in place of the button that was pressed, which on a small screen may be at its foot; the keys of a PIN have taken a keyboard already.
  useEffect(() => {
    place.current?.scrollIntoView({ block: "nearest" });
    if (document.activeElement === document.body) place.current?.focus({ preventScroll: true });
    return () => requestAnimationFrame(keepKeys);
  }, []);
  if (paired?.own !== false)
    return (
      <div class="confirm" ref={place} tabIndex={-1}>
        <p class="notice">{words.hand.noSecond}</p>
        <button type="button" onClick={asked.shut}>
          {words.hand.cancel}
        </button>
      </div>
    );
  const done = async (pin: string) => {
    if (person === undefined) return;
    setBusy(true);
    const isEntered = tell(await enterAsSecond(book, line, { person, pin }, body), sayBody(words, book.brief, body));
    setBusy(false);
    if (isEntered) asked.shut();
  };
  return (
    <div class="confirm" ref={place} tabIndex={-1}>
      <p>{sayBody(words, book.brief, body)}</p>
      {person === undefined ? (
        <>
          <p>{words.hand.who}</p>
          <ul class="targets">
            {able.map(({ id, label }) => (
              <li key={id}>
                <button type="button" onClick={() => asked.open({ body, person: id })}>
                  {label}
                </button>
              </li>
            ))}
          </ul>
          <button type="button" onClick={asked.shut}>
            {words.hand.cancel}
          </button>
        </>
      ) : (
        <PinPad
          label={words.hand.pinOf(new Names(book.brief).person(person))}
          isBusy={isBusy}
          onPin={(pin) => void done(pin)}
          onCancel={asked.shut}
        />
      )}
      {line.is === "near" ? null : <p class="soft">{words.hand.sealed}</p>}
    </div>
  );
};
