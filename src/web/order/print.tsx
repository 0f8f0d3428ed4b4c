// Owns the way from an order that was given to its job pack: whole or one sheet of it, a person's own card, on paper or as a page to be read out.

import { useState } from "preact/hooks";
import { useSettings } from "../sheet/settings.ts";
import { useModel } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";

const PAPERS = ["a4", "letter"] as const;
/** Sheets of a pack as the server calls them; "all" is the whole. */
const PARTS = ["all", "chart", "cards", "lift", "kit", "torque", "holes", "sign-off", "tags"] as const;
type Part = (typeof PARTS)[number];

export const Print = () => {
  const words = useWords();
  const { settings } = useSettings();
  const { base, run } = useModel();
  const [part, setPart] = useState<Part>("all");
  if (run === undefined) return null;
  const address = (form: "pdf" | "html", more: Readonly<Record<string, string>>): string =>
    `/api/orders/${encodeURIComponent(base.id)}/pack.${form}?${new URLSearchParams({ lang: settings.language, ...more })}`;
  const only: Readonly<Record<string, string>> = part === "all" ? {} : { only: part };
  const workers = run.people.filter(({ roles }) => roles.includes("mechanic") || roles.includes("verifier"));
  return (
    <section aria-labelledby="print-pack">
      <h2 id="print-pack">{words.runs.print}</h2>
      <p class="small soft">{words.runs.printHow}</p>
      <p>
        <label>
          {words.runs.printPart}{" "}
          <select
            value={part}
            onChange={({ currentTarget }) => setPart(PARTS.find((one) => one === currentTarget.value) ?? "all")}
          >
            {PARTS.map((one) => (
              <option key={one} value={one}>
                {words.runs.parts[one]}
              </option>
            ))}
          </select>
        </label>
      </p>
      <p class="print-ways">
        {PAPERS.map((paper) => (
          <a key={paper} class="button" target="_blank" rel="noopener" href={address("pdf", { ...only, paper })}>
            {words.runs.printOn[paper]}
          </a>
        ))}
        <a class="button" target="_blank" rel="noopener" href={address("html", only)}>
          {words.runs.asPage}
        </a>
      </p>
      {workers.length === 0 ? null : (
        <>
          <h3>{words.runs.ownCard}</h3>
          <p class="small soft">{words.runs.ownCardHow}</p>
          <ul class="print-people">
            {workers.map(({ id, label }) => (
              <li key={id}>
                <span>{label}</span>
                {PAPERS.map((paper) => (
                  <a
                    key={paper}
                    class="button"
                    target="_blank"
                    rel="noopener"
                    aria-label={`${label}: ${words.runs.printOn[paper]}`}
                    href={address("pdf", { person: id, paper })}
                  >
                    {words.runs.printOn[paper]}
                  </a>
                ))}
                <a
                  class="button"
                  target="_blank"
                  rel="noopener"
                  aria-label={`${label}: ${words.runs.asPage}`}
                  href={address("html", { person: id })}
                >
                  {words.runs.asPage}
                </a>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
};
