// Owns what a sheet shows while there is no plan: being worked out, what is wrong with the order, why there is none.

import { Link } from "wouter-preact";
import type { ReleaseSaid } from "../engine/asked.ts";
import { Failed, Notice } from "../sheet/states.tsx";
import type { Known } from "../shop/model.tsx";
import { useModel } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { useOrderState } from "./order-state.ts";

export const NoPlanYet = ({ release }: { readonly release: Known<ReleaseSaid> }) => {
  const words = useWords();
  const { base } = useModel();
  const [, change] = useOrderState();
  if (release.error !== null) return <Failed error={release.error} again={() => void release.refetch()} />;
  const { data } = release;
  if (data === undefined) return <p class="waiting busy">{words.sheet.computing}</p>;
  const afresh = (
    <button
      type="button"
      onClick={() =>
        change({ jobs: [], keep: [], take: [], released: [], without: [], hoist: undefined, crew: undefined })
      }
    >
      {words.order.afresh}
    </button>
  );
  if (data.faults.length > 0)
    return (
      <div class="notice stand-alone" role="status">
        <p>
          <b>{words.order.faults}</b>
        </p>
        <ul>
          {data.faults.map((fault) => {
            const { what, mend } = words.order.faultSaid(fault);
            return (
              <li key={fault.at}>
                {what}. {mend}
              </li>
            );
          })}
        </ul>
        {afresh}
      </div>
    );
  const { none } = data;
  if (none === undefined) return null;
  return (
    <Notice
      what={none.status === "infeasible" ? words.order.impossible : words.order.notFound}
      mend={none.because.length === 0 ? words.order.notFoundMend : words.order.because}
    >
      <ul class="because">
        {none.because.map((says) => (
          <li key={says}>{says}</li>
        ))}
      </ul>
      {afresh}
      <Link class="button" href={`/${base.from}/${encodeURIComponent(base.id)}/vehicle`}>
        {words.sheet.sheets.vehicle}
      </Link>
    </Notice>
  );
};
