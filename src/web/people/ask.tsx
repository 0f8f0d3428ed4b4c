// Owns what a page about accounts asks first: that the server is there, and that somebody is signed in.

import type { ComponentChildren } from "preact";
import { Link } from "wouter-preact";
import { Notice } from "../sheet/states.tsx";
import { unreached } from "../shop/calls.ts";
import { useDoor, useMe } from "../shop/door.ts";
import { Away } from "../start/door-page.tsx";
import { useWords } from "../words/words.ts";

/** @param to the address to come back to */
export const Ask = ({ to, children }: { readonly to: string; readonly children: ComponentChildren }) => {
  const words = useWords();
  const door = useDoor();
  const me = useMe();
  if (me !== undefined) return children;
  if (door.data === undefined && door.isFetched)
    return <Away error={door.error ?? unreached(undefined)} again={() => void door.refetch()} />;
  if (door.data === undefined || door.data.signedIn) return <p class="waiting busy">{words.door.moment}</p>;
  return (
    <Notice what={words.people.signInFirst} mend="">
      <Link class="button main" href={`/sign-in?to=${encodeURIComponent(to)}`}>
        {door.data.setup ? words.start.setUp : words.sheet.signIn}
      </Link>
    </Notice>
  );
};
