// Owns the list of faults and of what is worth a look: where each is, what it is, what mends it, and the way there.

import { useState } from "preact/hooks";
import type { Fault } from "../../vehicle/index.ts";
import { useModel } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import type { Goal } from "./goal.ts";

/** Shown before somebody asks for more. */
const FEW = 60;

export const FaultList = ({ onGo }: { readonly onGo: (goal: Goal) => void }) => {
  const words = useWords();
  const { reading, files, isBehind } = useModel();
  const { faults, warnings } = reading;
  const [count, setCount] = useState(FEW);
  const all = [...faults, ...warnings];
  const main = files.length === 1 ? files[0]?.path : undefined;
  return (
    <section class={isBehind ? "fault-list busy" : "fault-list"} aria-labelledby="faults">
      <h2 id="faults" class="unseen">
        {words.vehicle.faults}
      </h2>
      <p class="sum" role="status">
        <b>{faults.length === 0 ? words.vehicle.noFault : words.vehicle.faultCount(faults.length)}</b>
        {faults.length > 0 ? null : `; ${words.vehicle.looks(warnings.length)}`}
      </p>
      {faults.length === 0 ? null : (
        <p class="small soft">
          {words.vehicle.faultsLead} {words.vehicle.looksAfter}
        </p>
      )}
      <ol>
        {all.slice(0, count).map((fault, n) => (
          <Row
            key={`${n} ${fault.rule}`}
            fault={fault}
            isFault={n < faults.length}
            isNamed={fault.at.file !== main}
            onGo={onGo}
          />
        ))}
      </ol>
      {all.length > count ? (
        <button type="button" onClick={() => setCount(count + 4 * FEW)}>
          {words.vehicle.more(Math.min(4 * FEW, all.length - count))}
        </button>
      ) : null}
    </section>
  );
};

interface RowProps {
  readonly fault: Fault;
  readonly isFault: boolean;
  readonly isNamed: boolean;
  readonly onGo: (goal: Goal) => void;
}

const Row = ({ fault, isFault, isNamed, onGo }: RowProps) => {
  const words = useWords();
  const { file, line } = fault.at;
  const { what, mend } = words.vehicle.faultSaid(fault);
  return (
    <li class={isFault ? "fault" : "look"}>
      <button type="button" onClick={() => onGo(fault.at)}>
        <small>
          <b>{isFault ? words.vehicle.fault : words.vehicle.warning}</b>{" "}
          {isNamed ? words.vehicle.inFile(file, line) : words.vehicle.line(line)}
        </small>
        <span>{what}</span>
        <small class="soft">{mend}</small>
      </button>
    </li>
  );
};
