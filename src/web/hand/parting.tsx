// Owns the tie chart in hand: drawn from the book on this device, each line parting as it is entered, until nothing of it holds.

import { useMemo } from "preact/hooks";
import type { Ledger } from "../../ledger/index.ts";
import { type RunStanding, standingOf } from "../runs/standing.ts";
import { useEngine } from "../shop/model.tsx";
import { FittedChart } from "../ties/fitted.tsx";
import { assembliesOf, heldBy, sceneOf } from "../ties/scene.ts";
import { useWords } from "../words/words.ts";
import { useWork } from "./work.tsx";

const NOTHING = {};

/** How the joints of a run stand by the book on this device. */
export const stoodBy = (ledger: Ledger): RunStanding =>
  standingOf({
    joints: ledger.brief.joints.map(({ id }) => ({ id, state: ledger.joint(id).state })),
    findings: ledger.findings().map(({ found, state }) => ({ about: found.about, state })),
  });

export const Parting = () => {
  const words = useWords();
  const { book } = useWork();
  const { files, plan } = book.kept;
  const { vehicle } = useEngine("read", files, NOTHING).data ?? {};
  const scene = useMemo(() => {
    const assembly = vehicle === undefined ? undefined : assembliesOf(vehicle, plan)[0];
    return vehicle === undefined || assembly === undefined ? undefined : sceneOf(vehicle, plan, assembly);
  }, [vehicle, plan]);
  if (vehicle !== undefined && scene === undefined) return <p>{words.ties.nothing}</p>;
  if (vehicle === undefined || scene === undefined) return <p class="waiting busy">{words.sheet.computing}</p>;
  const { released, verified, faulty } = stoodBy(book.ledger);
  const held = heldBy(vehicle, scene, new Set([...plan.releasedBefore, ...released]), verified, faulty);
  return (
    <figure class="parting">
      <figcaption class={held.count === 0 ? "tally free" : "tally"} aria-live="polite">
        <b>{held.count}</b>
        <span>{held.free ? words.hand.nothingTies : words.ties.still(held.count)}</span>
      </figcaption>
      <FittedChart
        vehicle={vehicle}
        scene={scene}
        standing={held.standing}
        label={words.ties.pictureOf(scene.assembly.label, held.count, scene.ties.length)}
      />
    </figure>
  );
};
