// Owns a tie chart drawn to the room that its place has.

import { useMemo, useRef } from "preact/hooks";
import type { Vehicle } from "../../vehicle/index.ts";
import { useWords } from "../words/words.ts";
import { Chart, type ChartProps } from "./chart.tsx";
import { layOut } from "./layout.ts";
import type { Scene } from "./scene.ts";
import { useSize } from "./size.ts";

/** Pixels below which a place is too narrow to draw to its own scale. */
const LEAST = 520;

interface FittedProps extends Pick<ChartProps, "standing" | "label" | "suspects"> {
  readonly vehicle: Vehicle;
  readonly scene: Scene;
}

export const FittedChart = ({ vehicle, scene, ...chart }: FittedProps) => {
  const words = useWords();
  const box = useRef<HTMLDivElement>(null);
  const [wide, high] = useSize(box);
  const width = Math.max(LEAST, wide);
  const layout = useMemo(
    () => layOut(vehicle, scene, width, high / Math.max(1, wide), words.ties.anywhere),
    [vehicle, scene, width, wide, high, words],
  );
  return (
    <div ref={box} class="drawing">
      <Chart layout={layout} isAloft={false} enlarged={wide / width} {...chart} />
    </div>
  );
};
