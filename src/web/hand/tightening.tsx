// Owns how a joint in hand is drawn up: its stages, and the order of its fasteners as a drawing.

import { useEffect, useMemo, useState } from "preact/hooks";
import { drawPattern } from "../../fastening/index.ts";
import { drawnPattern } from "../../plan/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useEngine } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { useWork } from "./work.tsx";

const NOTHING = {};

/** @param id of the connection */
export const Tightening = ({ id }: { readonly id: string }) => {
  const words = useWords();
  const figures = useFigures();
  const { book } = useWork();
  const { files, plan } = book.kept;
  const { vehicle } = useEngine("read", files, NOTHING).data ?? {};
  const step = useMemo(
    () => plan.back.flatMap(({ steps }) => steps).find((one) => one.id === id && one.tightening !== undefined),
    [plan, id],
  );
  const tightening = step?.tightening;
  const svg = useMemo(() => {
    const connection = vehicle?.connections.find((one) => one.id === id);
    if (connection === undefined || step === undefined || tightening?.order === undefined) return undefined;
    const pattern = drawnPattern(connection, step.pattern, tightening.fasteners);
    return pattern === undefined ? undefined : drawPattern(pattern, connection.label);
  }, [vehicle, id, step, tightening]);
  const url = usePicture(svg);
  if (tightening === undefined) return null;
  const { stages, turn, fasteners, order } = tightening;
  return (
    <div class="tightening">
      <p>
        {words.hand.fasteners(fasteners)}
        {stages.length < 2 ? "" : `: ${stages.map((one) => figures.measure(one, "torque")).join(" → ")}`}
        {turn === undefined ? "" : `, ${words.hand.turnOn(figures.degrees(turn, 0))}`}
      </p>
      {url === undefined || order === undefined ? null : (
        <img src={url} alt={`${words.hand.pattern}: ${order.join(", ")}`} />
      )}
    </div>
  );
};

/** A drawing as a picture of its own: what stands in it touches nothing of the page. */
const usePicture = (svg: string | undefined): string | undefined => {
  const [url, setUrl] = useState<string>();
  useEffect(() => {
    if (svg === undefined) return;
    const made = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
    setUrl(made);
    return () => {
      setUrl(undefined);
      URL.revokeObjectURL(made);
    };
  }, [svg]);
  return url;
};
