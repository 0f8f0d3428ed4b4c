// Owns the tie chart in hand: drawn from the book on this device, each line parting as it is entered, until nothing of it holds.

import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { Ledger } from "../../ledger/index.ts";
import { standingOf } from "../runs/standing.ts";
import { useEngine } from "../shop/model.tsx";
import { Chart } from "../ties/chart.tsx";
import { layOut } from "../ties/layout.ts";
import { assembliesOf, heldBy, sceneOf } from "../ties/scene.ts";
import { useWords } from "../words/words.ts";
import { useWork } from "./work.tsx";

/** Pixels below which a place is too narrow to draw to its own scale. */
const LEAST = 520;
const NOTHING = {};

const jointsOf = (ledger: Ledger) => ledger.brief.joints.map(({ id }) => ({ id, state: ledger.joint(id).state }));

export const Parting = () => {
  const words = useWords();
  const { book } = useWork();
  const { files, plan } = book.kept;
  const { vehicle } = useEngine("read", files, NOTHING).data ?? {};
  const scene = useMemo(() => {
    const assembly = vehicle === undefined ? undefined : assembliesOf(vehicle, plan)[0];
    return vehicle === undefined || assembly === undefined ? undefined : sceneOf(vehicle, plan, assembly);
  }, [vehicle, plan]);
  const box = useRef<HTMLDivElement>(null);
  const [[wide, high], setSize] = useState<readonly [number, number]>([600, 420]);
  const isDrawn = scene !== undefined;
  useEffect(() => {
    const place = box.current;
    if (place === null || !isDrawn) return;
    const watch = new ResizeObserver(() => setSize([place.clientWidth, place.clientHeight]));
    watch.observe(place);
    return () => watch.disconnect();
  }, [isDrawn]);
  const layout = useMemo(
    () =>
      vehicle === undefined || scene === undefined
        ? undefined
        : layOut(vehicle, scene, Math.max(LEAST, wide), high / Math.max(1, wide), words.ties.anywhere),
    [vehicle, scene, wide, high, words],
  );
  if (vehicle !== undefined && scene === undefined) return <p>{words.ties.nothing}</p>;
  if (vehicle === undefined || scene === undefined || layout === undefined)
    return <p class="waiting busy">{words.sheet.computing}</p>;
  const { ledger } = book;
  const { released, verified, faulty } = standingOf({
    joints: jointsOf(ledger),
    findings: ledger.findings().map(({ found, state }) => ({ about: found.about, state })),
  });
  const held = heldBy(vehicle, scene, new Set([...plan.releasedBefore, ...released]), verified, faulty);
  return (
    <figure class="parting">
      <figcaption class={held.count === 0 ? "tally free" : "tally"} aria-live="polite">
        <b>{held.count}</b>
        <span>{held.free ? words.hand.nothingTies : words.ties.still(held.count)}</span>
      </figcaption>
      <div ref={box} class="drawing">
        <Chart
          layout={layout}
          standing={held.standing}
          isAloft={false}
          label={words.ties.pictureOf(scene.assembly.label, held.count, scene.ties.length)}
          enlarged={1}
        />
      </div>
    </figure>
  );
};
