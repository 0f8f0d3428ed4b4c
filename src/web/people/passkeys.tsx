// Owns one's passkeys: which there are, making and removing one.

import { useQuery, useQueryClient } from "@tanstack/preact-query";
import { useState } from "preact/hooks";
import { useFigures } from "../sheet/figures.ts";
import { HeldButton } from "../sheet/held-button.tsx";
import { Refused } from "../sheet/refused.tsx";
import { call, Refusal } from "../shop/calls.ts";
import { Away } from "../start/door-page.tsx";
import { canShowPasskey, makePasskey } from "../start/passkey.ts";
import { useWords } from "../words/words.ts";

interface Passkey {
  readonly id: string;
  readonly label: string;
  readonly at: number;
  readonly used: number | null;
}

export const Passkeys = ({ mayChange }: { readonly mayChange: boolean }) => {
  const words = useWords();
  const figures = useFigures();
  const queries = useQueryClient();
  const [label, setLabel] = useState<string>();
  const [fault, setFault] = useState<Refusal>();
  const [isMade, setMade] = useState(false);
  const passkeys = useQuery({
    queryKey: ["passkeys"],
    queryFn: async () => (await call<{ readonly passkeys: readonly Passkey[] }>("GET", "/passkeys")).body.passkeys,
    staleTime: 0,
  });
  const name = label ?? words.account.passkeyOwn;
  const act = async (what: () => Promise<unknown>): Promise<boolean> => {
    setFault(undefined);
    setMade(false);
    try {
      await what();
      return true;
    } catch (error) {
      // The browser's own: nobody chose one, or it was called off.
      setFault(
        error instanceof Refusal
          ? error
          : new Refusal(400, words.door.noPasskey, words.account.passkeyAgain, {}, { cause: error }),
      );
      return false;
    } finally {
      await queries.invalidateQueries({ queryKey: ["passkeys"] });
    }
  };
  const make = async () => {
    if (await act(() => makePasskey(name))) {
      setLabel(undefined);
      setMade(true);
    }
  };
  return (
    <section aria-labelledby="passkeys">
      <h2 id="passkeys">{words.account.passkeys}</h2>
      <p class="small">{words.account.passkeysHelp}</p>
      {passkeys.data === undefined ? (
        passkeys.error === null ? (
          <p class="busy">{words.door.moment}</p>
        ) : (
          <Away error={passkeys.error} again={() => void passkeys.refetch()} />
        )
      ) : passkeys.data.length === 0 ? (
        <p>{words.account.noPasskeys}</p>
      ) : (
        <ul class="log">
          {passkeys.data.map((one) => (
            <li key={one.id}>
              <span>
                {one.label}
                <small>
                  {words.account.passkeyLine(
                    figures.moment(one.at),
                    one.used === null ? words.account.never : figures.moment(one.used),
                  )}
                </small>
              </span>
              {mayChange ? (
                <HeldButton
                  label={words.account.remove}
                  about={one.label}
                  onHeld={() => void act(() => call("DELETE", `/passkeys/${encodeURIComponent(one.id)}`))}
                />
              ) : null}
            </li>
          ))}
        </ul>
      )}
      {!mayChange ? null : canShowPasskey() ? (
        <form
          class="make"
          onSubmit={(event) => {
            event.preventDefault();
            void make();
          }}
        >
          <label class="field">
            <span>{words.account.passkeyName}</span>
            <input
              value={name}
              required
              maxLength={120}
              autocomplete="off"
              onInput={({ currentTarget }) => setLabel(currentTarget.value)}
            />
          </label>
          <button type="submit">{words.account.addPasskey}</button>
        </form>
      ) : (
        <p class="small">{words.account.passkeyNeeds}</p>
      )}
      {isMade ? <p role="status">{words.account.passkeyAdded}</p> : null}
      <Refused fault={fault} />
    </section>
  );
};
