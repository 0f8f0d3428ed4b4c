// Owns the cell of the title block that says who is signed in, and lets him out: on a tablet of the site by handing it over, in one touch.

import { useState } from "preact/hooks";
import { Link, useLocation } from "wouter-preact";
import { asRefusal } from "../sheet/refused.tsx";
import { useDoor, useEntrance, useMe, useShared } from "../shop/door.ts";
import { useWords } from "../words/words.ts";

export const PersonCell = () => {
  const words = useWords();
  const door = useDoor();
  const me = useMe();
  if (me === undefined)
    return (
      <div class="cell person">
        <Link class="button" href="/sign-in">
          {door.data?.setup === true ? words.start.setUp : words.sheet.signIn}
        </Link>
      </div>
    );
  return (
    <div class="cell person">
      <span>
        <small>{words.door.signedInAs}</small>
        <Link href="/account">{me.name}</Link>
      </span>
      <Leave />
    </div>
  );
};

/** Out of it: on a tablet of the site back to the names. */
const Leave = () => {
  const words = useWords();
  const isShared = useShared();
  const { signOut } = useEntrance();
  const [, navigate] = useLocation();
  const [isAway, setAway] = useState(false);
  const leave = async () => {
    try {
      await signOut();
      setAway(false);
      if (isShared) navigate("/sign-in");
    } catch (error) {
      asRefusal(error);
      setAway(true);
    }
  };
  return isAway ? (
    <button type="button" class="plain" aria-live="assertive" onClick={() => void leave()}>
      {words.door.cannotLeave}
    </button>
  ) : (
    <button
      type="button"
      class={isShared ? "hand-over" : "plain"}
      title={isShared ? words.door.handOverWhy : undefined}
      onClick={() => void leave()}
    >
      {isShared ? words.door.handOver : words.start.signOut}
    </button>
  );
};
