// Owns the growing tie chart of a draft: the chart of the ties' sheet, drawn from what is told so far.

import { useMemo, useRef } from "preact/hooks";
import type { Vehicle } from "../../vehicle/index.ts";
import { Chart, tieAt } from "../ties/chart.tsx";
import { layOut } from "../ties/layout.ts";
import { usePan } from "../ties/pan.ts";
import { heldBy } from "../ties/scene.ts";
import { drawnWidth, useSize } from "../ties/size.ts";
import { useWords } from "../words/words.ts";
import { drawnOf } from "./scene.ts";

interface PictureProps {
  readonly vehicle: Vehicle;
  readonly toLook: ReadonlySet<string>;
  readonly chosen: string | undefined;
  /** What is looked for; the others step back. */
  readonly found: ReadonlySet<string> | undefined;
  readonly onChoose: (id: string) => void;
}

/** Pixels below which nothing can be drawn. */
const LEAST = 60;
/** Nothing is undone in a draft. */
const NOTHING: ReadonlySet<string> = new Set();

export const Picture = ({ vehicle, toLook, chosen, found, onChoose }: PictureProps) => {
  const words = useWords();
  const frame = useRef<HTMLDivElement>(null);
  const drawing = useRef<HTMLDivElement>(null);
  const [wide, high] = useSize(frame);
  const { view, nearer, farther, whole } = usePan(frame, drawing, (target) => {
    const id = tieAt(target);
    if (id !== undefined) onChoose(id);
  });
  const width = drawnWidth(wide);
  const drawn = useMemo(() => drawnOf(vehicle, toLook), [vehicle, toLook]);
  const layout = useMemo(
    () =>
      // Where nothing of it is seen there is no size to draw it in.
      drawn === undefined || wide < LEAST || high < LEAST
        ? undefined
        : layOut(drawn.vehicle, drawn.scene, width, high / Math.max(1, wide), words.drafts.anywhere),
    [drawn, width, high, wide, words],
  );
  const held = useMemo(
    () => (drawn === undefined ? undefined : heldBy(vehicle, drawn.scene, NOTHING)),
    [vehicle, drawn],
  );
  return (
    <section class="picture" aria-label={words.drafts.chart}>
      <div class="frame-of-chart" ref={frame}>
        <div class="drawing" ref={drawing}>
          {drawn === undefined || layout === undefined || held === undefined ? null : (
            <Chart
              layout={layout}
              standing={held.standing}
              {...(chosen === undefined ? {} : { chosen })}
              {...(found === undefined ? {} : { found })}
              isAloft={false}
              label={words.drafts.chartOf(drawn.scene.assembly.label, drawn.scene.ties.length)}
              enlarged={view.scale * (wide / width)}
            />
          )}
        </div>
        <div class="nearness">
          <button type="button" onClick={nearer} aria-label={words.ties.nearer}>
            +
          </button>
          <button type="button" onClick={farther} aria-label={words.ties.farther} disabled={view.scale === 1}>
            −
          </button>
          <button type="button" onClick={whole} disabled={view.scale === 1}>
            {words.ties.whole}
          </button>
        </div>
      </div>
      {drawn?.isStandIn === true ? <p class="small soft">{words.drafts.notToScale}</p> : null}
    </section>
  );
};
