// Owns the way from a thing to its line in the text.

import type { Place } from "../../vehicle/index.ts";
import { useWords } from "../words/words.ts";
import type { Goal } from "./goal.ts";

interface ToLineProps {
  readonly label: string;
  readonly place: Place | undefined;
  readonly onGo: (goal: Goal) => void;
}

export const ToLine = ({ label, place, onGo }: ToLineProps) => {
  const words = useWords();
  if (place === undefined) return null;
  return (
    <button
      type="button"
      class="plain to-line"
      aria-label={words.vehicle.toLine(label, place.line)}
      onClick={() => onGo(place)}
    >
      {words.vehicle.line(place.line)}
    </button>
  );
};
