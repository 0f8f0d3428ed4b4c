// Owns where somebody is signed in at this moment, and ending it there: one's own, or of whom one is foreman.

import { useQuery, useQueryClient } from "@tanstack/preact-query";
import { useState } from "preact/hooks";
import { useFigures } from "../sheet/figures.ts";
import { asRefusal, Refused } from "../sheet/refused.tsx";
import { call, type Refusal } from "../shop/calls.ts";
import { Away } from "../start/door-page.tsx";
import { useWords } from "../words/words.ts";

interface Session {
  readonly id: string;
  readonly by: "pin" | "password" | "passkey" | "token";
  readonly device: string | null;
  readonly address: string;
  readonly opened: number;
  readonly seen: number;
  readonly own: boolean;
}

/** @param person undefined: one's own */
export const SessionList = ({ person }: { readonly person?: string }) => {
  const words = useWords();
  const figures = useFigures();
  const queries = useQueryClient();
  const [fault, setFault] = useState<Refusal>();
  const of = person === undefined ? "" : `?person=${encodeURIComponent(person)}`;
  const sessions = useQuery({
    queryKey: ["sessions", person ?? null],
    queryFn: async () => (await call<{ readonly sessions: readonly Session[] }>("GET", `/sessions${of}`)).body.sessions,
    staleTime: 0,
  });
  const end = async (id: string) => {
    setFault(undefined);
    try {
      await call("DELETE", `/sessions/${encodeURIComponent(id)}${of}`);
    } catch (error) {
      setFault(asRefusal(error));
    }
    await queries.invalidateQueries({ queryKey: ["sessions"] });
  };
  return (
    <section aria-labelledby="sessions">
      <h2 id="sessions">{words.people.sessions}</h2>
      {sessions.data === undefined ? (
        sessions.error === null ? (
          <p class="busy">{words.door.moment}</p>
        ) : (
          <Away error={sessions.error} again={() => void sessions.refetch()} />
        )
      ) : sessions.data.length === 0 ? (
        <p>{words.people.noSessions}</p>
      ) : (
        <ul class="log">
          {sessions.data.map(({ id, by, address, opened, seen, own }) => (
            <li key={id}>
              <span>
                {words.people.sessionBy[by]}, {address}
                {own ? ` (${words.people.thisSession})` : ""}
                <small>{words.people.sessionAt(figures.moment(opened), figures.moment(seen))}</small>
              </span>
              {own ? null : (
                <button
                  type="button"
                  aria-label={words.people.endOf(`${words.people.sessionBy[by]}, ${address}`)}
                  onClick={() => void end(id)}
                >
                  {words.people.end}
                </button>
              )}
            </li>
          ))}
        </ul>
      )}
      <Refused fault={fault} />
    </section>
  );
};
