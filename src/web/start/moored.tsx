// Owns the picture of the first page: an assembly held by its lines, which part one after the other, and once more from the beginning.

import { useWords } from "../words/words.ts";

/** Where each line goes from the assembly's edge, by angle in degrees. */
const LINES = [12, 38, 71, 104, 128, 159, 187, 214, 248, 279, 301, 334] as const;

export const Moored = () => {
  const words = useWords();
  return (
    <svg class="moored" viewBox="-200 -110 400 220" role="img" aria-label={words.start.picture}>
      <rect x="-190" y="-100" width="380" height="200" rx="14" class="hull" />
      <g class="lines">
        {LINES.map((angle, n) => {
          const [x, y] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)];
          const reach = Math.min(190 / Math.abs(x), 100 / Math.abs(y));
          return (
            <line
              key={angle}
              class={`line n${n}`}
              x1={x * 62}
              y1={y * 34}
              x2={x * reach}
              y2={y * reach}
              pathLength={1}
            />
          );
        })}
      </g>
      <rect x="-62" y="-34" width="124" height="68" rx="6" class="load" />
      <circle r="3" class="centre" />
    </svg>
  );
};
