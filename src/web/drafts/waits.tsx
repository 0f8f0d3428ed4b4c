// Owns what comes before what is chosen in a draft: whether it comes before anything else, and what it waits for.

import type { Edit } from "../../draft/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import { useWords } from "../words/words.ts";
import type { Row } from "./rows.ts";

interface WaitsProps {
  readonly row: Row;
  readonly vehicle: Vehicle;
  readonly onEdit: (asked: Edit) => void;
}

export const Waits = ({ row: { id }, vehicle, onEdit }: WaitsProps) => {
  const words = useWords();
  const needs =
    vehicle.connections.find((one) => one.id === id)?.ways[0]?.needs ??
    vehicle.tasks.find((one) => one.id === id)?.needs ??
    [];
  const steps = [...vehicle.tasks, ...vehicle.connections];
  const waited = needs.flatMap((need) => ("id" in need ? steps.filter((step) => step.id === need.id) : []));
  return (
    <div class="comes-after">
      <label class="check">
        <input
          type="checkbox"
          checked={vehicle.first.includes(id)}
          onChange={({ currentTarget }) => onEdit({ is: "first", id, isFirst: currentTarget.checked })}
        />
        {words.drafts.first}
      </label>
      {waited.length === 0 ? null : (
        <ul aria-label={words.drafts.waits}>
          {waited.map((step) => (
            <li key={step.id}>
              {words.drafts.after(step.label)}
              <button
                type="button"
                class="plain small"
                onClick={() => onEdit({ is: "wait", id, on: step.id, isNeeded: false })}
              >
                {words.drafts.notAfter}
                <span class="unseen">: {step.label}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      <label class="field">
        <span>{words.drafts.waits}</span>
        <select
          value=""
          onChange={({ currentTarget: { value } }) => onEdit({ is: "wait", id, on: value, isNeeded: true })}
        >
          <option value="">{words.drafts.another}</option>
          {steps
            .filter((step) => step.id !== id && !waited.includes(step))
            .map((step) => (
              <option key={step.id} value={step.id}>
                {step.label}
              </option>
            ))}
        </select>
      </label>
    </div>
  );
};
