// Owns the sites as whoever keeps the server names them: what each is called, its time zone, and another one.

import { useQueryClient } from "@tanstack/preact-query";
import { useState } from "preact/hooks";
import { asRefusal, Refused } from "../sheet/refused.tsx";
import { call, type Refusal } from "../shop/calls.ts";
import { type Site, useSites } from "../shop/sites.ts";
import { ownZone, ZoneField } from "../start/zone-field.tsx";
import { useWords } from "../words/words.ts";

export const SiteForms = () => {
  const words = useWords();
  const sites = useSites();
  return (
    <section class="sites" aria-labelledby="sites">
      <h2 id="sites">{words.people.sites}</h2>
      {sites.map((site) => (
        <SiteForm key={site.site} site={site} />
      ))}
      <details>
        <summary>{words.people.addSiteTitle}</summary>
        <SiteForm />
      </details>
    </section>
  );
};

/** The ETag is read when it is kept: what a site is called is nothing that two change at once. */
const keepSite = async (id: string, label: string, zone: string, isNew: boolean): Promise<void> => {
  const path = `/sites/${encodeURIComponent(id)}`;
  const behind: Readonly<Record<string, string>> = isNew
    ? { "if-none-match": "*" }
    : { "if-match": (await call("GET", path)).etag ?? "" };
  await call("PUT", path, { label, zone }, behind);
};

/** @param site undefined: another one */
const SiteForm = ({ site }: { readonly site?: Site }) => {
  const words = useWords();
  const queries = useQueryClient();
  const [fault, setFault] = useState<Refusal>();
  const [isKept, setKept] = useState(false);
  const [isBusy, setBusy] = useState(false);
  const submit = async (form: HTMLFormElement) => {
    const given = (name: string) => String(new FormData(form).get(name) ?? "").trim();
    setBusy(true);
    setFault(undefined);
    setKept(false);
    try {
      await keepSite(site?.site ?? given("id"), given("label"), given("zone"), site === undefined);
      await queries.invalidateQueries({ predicate: ({ queryKey: [of] }) => of !== "engine" });
      if (site === undefined) form.reset();
      setKept(true);
    } catch (error) {
      setFault(asRefusal(error));
    } finally {
      setBusy(false);
    }
  };
  return (
    <form
      class={isBusy ? "site busy" : "site"}
      onSubmit={(event) => {
        event.preventDefault();
        void submit(event.currentTarget);
      }}
    >
      {site === undefined ? (
        <label class="field">
          <span>{words.people.siteId}</span>
          <input
            name="id"
            required
            pattern="[A-Za-z0-9][A-Za-z0-9._\-]{0,79}"
            title={words.people.personShape}
            autocomplete="off"
            autocapitalize="none"
          />
        </label>
      ) : null}
      <label class="field">
        <span>{words.people.siteName}</span>
        <input name="label" defaultValue={site?.label ?? ""} required maxLength={120} autocomplete="off" />
      </label>
      <ZoneField name="zone" first={site?.zone ?? ownZone()} />
      <button type="submit" disabled={isBusy}>
        {words.people.keepSite}
      </button>
      {isKept ? <p role="status">{words.people.saved}</p> : null}
      <Refused fault={fault} />
    </form>
  );
};
