// Owns sending somebody away from a site: his last role there is taken, by a button that is kept pressed.

import { useQueryClient } from "@tanstack/preact-query";
import { useState } from "preact/hooks";
import { HeldButton } from "../sheet/held-button.tsx";
import { asRefusal, Refused } from "../sheet/refused.tsx";
import type { Refusal } from "../shop/calls.ts";
import { useMe } from "../shop/door.ts";
import { useSites } from "../shop/sites.ts";
import { useWords } from "../words/words.ts";
import { foremanAt, keepMember, type Read } from "./members.ts";

export const SendAway = ({ read }: { readonly read: Read }) => {
  const words = useWords();
  const me = useMe();
  const sites = useSites();
  const queries = useQueryClient();
  const [fault, setFault] = useState<Refusal>();
  const { member, etag } = read;
  if (me === undefined) return null;
  const led = foremanAt(me);
  const from = Object.keys(member.sites).filter((site) => me.steward || led.includes(site));
  const send = async (site: string) => {
    setFault(undefined);
    try {
      const { name, skills, steward } = member;
      await keepMember(member.person, { name, skills, steward, sites: { ...member.sites, [site]: [] } }, etag);
    } catch (error) {
      setFault(asRefusal(error));
    }
    await queries.invalidateQueries({ predicate: ({ queryKey: [of] }) => of === "people" || of === "sessions" });
  };
  return (
    <section aria-labelledby="away">
      <h2 id="away">{words.people.away}</h2>
      {from.length === 0 ? (
        <p role="status">{words.people.sentAway(member.name)}</p>
      ) : (
        <>
          <p>{words.people.awayHelp}</p>
          <p class="onward">
            {from.map((site) => (
              <HeldButton
                key={site}
                label={words.people.awayFrom(sites.find((one) => one.site === site)?.label ?? site)}
                onHeld={() => void send(site)}
              />
            ))}
          </p>
        </>
      )}
      <Refused fault={fault} />
    </section>
  );
};
