// Owns what the pages of the door stand in: the frame with a title block that leads from one to the other, and what is there while the server is away.

import type { ComponentChildren } from "preact";
import { useEffect } from "preact/hooks";
import { Link } from "wouter-preact";
import { SettingsButton } from "../sheet/settings-dialog.tsx";
import { Frame, Mark } from "../sheet/sheet.tsx";
import { Failed, Notice } from "../sheet/states.tsx";
import { Refusal } from "../shop/calls.ts";
import { useDoor } from "../shop/door.ts";
import { useWords } from "../words/words.ts";
import { PersonCell } from "./person-cell.tsx";

/** Where an address says to go afterwards; only to one of this page. */
export const goalOf = (search: URLSearchParams): string | undefined => {
  const to = search.get("to");
  return to !== null && /^\/(?!\/)/.test(to) ? to : undefined;
};

type Place = "people" | "device" | "account";

/** The way to the other pages of the door. */
export const DoorLinks = ({ here }: { readonly here?: Place | undefined }) => {
  const words = useWords();
  const door = useDoor();
  if (door.data?.signedIn !== true) return null;
  return (
    <nav class="cell" aria-label={words.door.nav}>
      {(["people", "device", "account"] as const).map((place) => (
        <Link key={place} href={`/${place}`} aria-current={place === here ? "page" : undefined}>
          {words.door[place]}
        </Link>
      ))}
    </nav>
  );
};

export const DoorPage = ({
  title,
  here,
  isEntrance = false,
  children,
}: {
  readonly title: string;
  /** Where one signs in, nothing else asks for it. */
  readonly isEntrance?: boolean;
  readonly here?: Place;
  readonly children: ComponentChildren;
}) => {
  const words = useWords();
  useEffect(() => {
    document.title = `${title} – ${words.sheet.app}`;
  }, [title, words]);
  return (
    <Frame
      block={
        <footer class="title-block">
          <Link class="cell mark" href="/">
            <Mark />
            <b>
              {words.sheet.app}
              <span class="unseen">: {words.sheet.home}</span>
            </b>
          </Link>
          <div class="cell job" />
          <DoorLinks here={here} />
          {isEntrance ? null : <PersonCell />}
          <SettingsButton />
        </footer>
      }
    >
      {children}
    </Frame>
  );
};

/** Why there is nothing to be seen: without the server these pages have nothing to say. */
export const Away = ({ error, again }: { readonly error: Error; readonly again: () => void }) => {
  const words = useWords();
  if (!(error instanceof Refusal) || error.status !== 0) return <Failed error={error} again={again} />;
  return (
    <Notice what={words.door.needsServer} mend={words.door.needsServerMend}>
      <button type="button" onClick={again}>
        {words.sheet.again}
      </button>
    </Notice>
  );
};
