// Owns the title block of the drafts: whose draft it is, and the way to its sheets.

import type { ComponentChildren } from "preact";
import { Link } from "wouter-preact";
import { SettingsButton } from "../sheet/settings-dialog.tsx";
import { Mark } from "../sheet/sheet.tsx";
import { useWords } from "../words/words.ts";

export const DraftBlock = ({
  name,
  id,
  children,
}: {
  readonly name: string;
  readonly id?: string;
  readonly children?: ComponentChildren;
}) => {
  const words = useWords();
  return (
    <footer class="title-block">
      <Link class="cell mark" href="/">
        <Mark />
        <b>
          {words.sheet.app}
          <span class="unseen">: {words.sheet.home}</span>
        </b>
      </Link>
      <div class="cell vehicle">
        <small>{words.sheet.vehicle}</small>
        <b>{name}</b>
        <small>{id === undefined ? "" : words.drafts.here}</small>
      </div>
      <div class="cell job">
        <small>{words.drafts.caution}</small>
      </div>
      {children}
      {id === undefined ? null : (
        <nav class="cell" aria-label={words.drafts.sheet}>
          <Link href={`/mine/${encodeURIComponent(id)}/vehicle`}>{words.sheet.sheets.vehicle}</Link>
          <Link href={`/mine/${encodeURIComponent(id)}/order`}>{words.sheet.sheets.order}</Link>
        </nav>
      )}
      <SettingsButton />
    </footer>
  );
};
