// Owns the drawing of the order in which the fasteners of a joint in hand are drawn up.

import { useEffect, useMemo, useState } from "preact/hooks";
import { drawPattern } from "../../fastening/index.ts";
import { drawnPattern, type PlanStep } from "../../plan/index.ts";
import { useEngine } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { useWork } from "./work.tsx";

const NOTHING = {};

export const Pattern = ({
  step: { id, pattern },
  order,
  fasteners,
}: {
  readonly step: PlanStep;
  readonly order: readonly string[];
  readonly fasteners: number;
}) => {
  const words = useWords();
  const { files } = useWork().book.kept;
  const { vehicle } = useEngine("read", files, NOTHING).data ?? {};
  const svg = useMemo(() => {
    const connection = vehicle?.connections.find((one) => one.id === id);
    const drawn = connection === undefined ? undefined : drawnPattern(connection, pattern, fasteners);
    return connection === undefined || drawn === undefined ? undefined : drawPattern(drawn, connection.label);
  }, [vehicle, id, pattern, fasteners]);
  const url = usePicture(svg);
  return url === undefined ? null : <img src={url} alt={`${words.hand.pattern}: ${order.join(", ")}`} />;
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
