// Owns what a sheet shows where it cannot draw: something to mend, a refusal, a fault of the program.

import type { ComponentChildren } from "preact";
import { Component } from "preact";
import { Link, useLocation, useSearch } from "wouter-preact";
import { Refusal } from "../shop/calls.ts";
import { useWords } from "../words/words.ts";
import { sayRefusal } from "./refused.tsx";

interface Said {
  readonly what: string;
  readonly mend: string;
  readonly children?: ComponentChildren;
}

export const Notice = ({ what, mend, children }: Said) => (
  <div class="notice stand-alone" role="status">
    <p>
      <b>{what}</b>
    </p>
    {mend === "" ? null : <p>{mend}</p>}
    {children}
  </div>
);

/** An error in the words that it deserves: a refusal says its own, the rest is a fault of the program. */
export const Failed = ({ error, again }: { readonly error: Error; readonly again?: () => void }) => {
  const words = useWords();
  const [path] = useLocation();
  const search = useSearch();
  const refusal = error instanceof Refusal ? error : undefined;
  const button =
    again === undefined ? null : (
      <button type="button" onClick={again}>
        {words.sheet.again}
      </button>
    );
  if (refusal?.status === 401)
    return (
      <Notice what={words.sheet.signInFirst} mend="">
        <Link
          class="button main"
          href={`/sign-in?to=${encodeURIComponent(search === "" ? path : `${path}?${search}`)}`}
        >
          {words.sheet.signIn}
        </Link>
      </Notice>
    );
  if (refusal?.status === 0)
    return (
      <Notice what={words.sheet.offline} mend={words.door.needsServerMend}>
        {button}
      </Notice>
    );
  if (refusal !== undefined) {
    const { what, mend } = sayRefusal(words, refusal);
    return (
      <Notice what={refusal.status === 403 ? `${words.sheet.notAllowed} ${what}` : what} mend={mend}>
        {button}
      </Notice>
    );
  }
  return (
    <Notice what={`${words.sheet.failed}: ${error.message}`} mend={words.sheet.failedMend}>
      {button}
    </Notice>
  );
};

/** Keeps a fault of one sheet from taking the page with it. */
export class Held extends Component<{ readonly children: ComponentChildren }, { readonly error?: Error }> {
  override state: { readonly error?: Error } = {};

  static override getDerivedStateFromError(error: Error) {
    return { error };
  }

  override render() {
    const { error } = this.state;
    // Preact's own type lets a state lose a field only by being undefined.
    return error === undefined ? (
      this.props.children
    ) : (
      <Failed error={error} again={() => this.setState({ error: undefined as never })} />
    );
  }
}
