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

type Place = "people" | "device" | "account";

/** The way to the other pages of the door. */
export const DoorLinks = ({ here }: { readonly here?: Place | undefined }) => {
  const words = useWords();
  const door = useDoor();
  const shown: readonly Place[] = door.data?.signedIn === true ? ["people", "device", "account"] : ["device"];
  return (
    <nav class="cell" aria-label={words.door.nav}>
      {shown.map((place) => (
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
  children,
}: {
  readonly title: string;
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
          <PersonCell />
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
