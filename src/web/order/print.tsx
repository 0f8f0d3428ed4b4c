// Owns the way from an order that was given to its job pack on paper.

import { useSettings } from "../sheet/settings.ts";
import { useModel } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";

const PAPERS = ["a4", "letter"] as const;

export const Print = () => {
  const words = useWords();
  const { settings } = useSettings();
  const { base, run } = useModel();
  if (run === undefined) return null;
  return (
    <section aria-labelledby="print-pack">
      <h2 id="print-pack">{words.runs.print}</h2>
      <p class="small soft">{words.runs.printHow}</p>
      <p>
        {PAPERS.map((paper) => (
          <span key={paper}>
            <a
              class="button"
              target="_blank"
              rel="noopener"
              href={`/api/orders/${encodeURIComponent(base.id)}/pack.pdf?lang=${settings.language}&paper=${paper}`}
            >
              {words.runs.print} {words.runs.papers[paper]}
            </a>{" "}
          </span>
        ))}
      </p>
    </section>
  );
};
