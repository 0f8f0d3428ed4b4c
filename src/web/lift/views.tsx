// Owns the elevations on the page: the rigging room's own drawings, in the page's ink.

import { useEffect, useRef } from "preact/hooks";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";

export const Views = ({ views }: { readonly views: readonly { readonly name: string; readonly svg: string }[] }) => {
  const words = useWords();
  const figures = useFigures();
  if (views.length === 0) return null;
  return (
    <div class="views">
      {views.map(({ name, svg }, n) => (
        <Elevation
          key={name}
          svg={svg.replaceAll(/>([\d.]+) m</g, (_, metres: string) => `>${figures.measure(Number(metres), "length")}<`)}
          label={words.lift.views[n] ?? name}
        />
      ))}
    </div>
  );
};

const Elevation = ({ svg, label }: { readonly svg: string; readonly label: string }) => {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // Taken as a document of its own: what a file's author wrote into a name stays text.
    const drawing = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
    place.current?.replaceChildren(document.importNode(drawing, true));
  }, [svg]);
  return (
    <figure class="elevation">
      <figcaption>{label}</figcaption>
      <div role="img" aria-label={label} ref={place} />
    </figure>
  );
};
