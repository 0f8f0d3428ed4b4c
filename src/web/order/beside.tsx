// Owns the new answer beside the old: what an order changed in one point costs more or less, and what comes off for it.

import { useMemo } from "preact/hooks";
import { useLocation, useSearch } from "wouter-preact";
import type { Plan } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import type { ReleaseSaid } from "../engine/asked.ts";
import { useFigures } from "../sheet/figures.ts";
import { type Known, useAnswer } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { askedOf, readOrder, writeOrder } from "./order-state.ts";

const releasedIn = (plan: Plan): ReadonlyMap<string, string> =>
  new Map(
    plan.out.flatMap(({ steps }) =>
      steps
        .filter(({ action }) => action === "release" || action === "loosen" || action === "do")
        .map(({ id, label }) => [id, label] as const),
    ),
  );

interface BesideProps {
  readonly vehicle: Vehicle;
  /** The order before, as an address holds it. */
  readonly before: string;
  readonly release: Known<ReleaseSaid>;
}

export const Beside = ({ vehicle, before, release }: BesideProps) => {
  const words = useWords();
  const figures = useFigures();
  const search = useSearch();
  const [path, navigate] = useLocation();
  const old = useAnswer(
    "release",
    useMemo(() => ({ order: askedOf(readOrder(before), vehicle) }), [before, vehicle]),
  );
  const [was, is] = [old.data?.plan, release.isPlaceholderData ? undefined : release.data?.plan];
  const keepNew = () => {
    const next = new URLSearchParams(search);
    next.delete("against");
    navigate(`${path}?${next}`);
  };
  const difference = useMemo(() => {
    if (was === undefined || is === undefined) return undefined;
    const [a, b] = [releasedIn(was), releasedIn(is)];
    return {
      more: is.figures.labour - was.figures.labour,
      adds: [...b].filter(([id]) => !a.has(id)).map(([, label]) => label),
      spares: [...a].filter(([id]) => !b.has(id)).map(([, label]) => label),
    };
  }, [was, is]);
  const column = (title: string, plan: Plan | undefined) => (
    <div class="figure">
      <small>{title}</small>
      <b>{plan === undefined ? "–" : figures.minutes(plan.figures.labour)}</b>
      <small>
        {plan === undefined
          ? release.isFetching
            ? words.sheet.computing
            : words.order.noPlan
          : words.order.connections(
              plan.out.flatMap(({ steps }) => steps).filter(({ action }) => action === "release" || action === "loosen")
                .length,
            )}
      </small>
    </div>
  );
  return (
    <section class={release.isFetching ? "beside-old busy" : "beside-old"} aria-label={words.order.beside}>
      {column(words.order.old, was)}
      {column(words.order.new, is)}
      <div class="difference" aria-live="polite">
        {difference === undefined ? null : (
          <>
            <p>
              <b>
                {difference.more === 0
                  ? words.order.same
                  : difference.more > 0
                    ? words.order.more(figures.minutes(difference.more))
                    : words.order.less(figures.minutes(-difference.more))}
              </b>
            </p>
            <Some sign="+" labels={difference.adds} />
            <Some sign="−" labels={difference.spares} />
          </>
        )}
      </div>
      <div>
        <button type="button" class="main" onClick={keepNew}>
          {words.order.keepNew}
        </button>
        <button type="button" onClick={() => navigate(`${path}?${writeOrder(readOrder(before))}`)}>
          {words.order.backToOld}
        </button>
      </div>
    </section>
  );
};

/** Names that fit in the place; the rest on a tap. */
const FEW = 5;

const Some = ({ sign, labels }: { readonly sign: string; readonly labels: readonly string[] }) => {
  const words = useWords();
  if (labels.length === 0) return null;
  const text = `${sign} ${labels.slice(0, FEW).join("; ")}`;
  return labels.length <= FEW ? (
    <p>{text}</p>
  ) : (
    <details>
      <summary class="small">
        {text} {words.order.andMore(labels.length - FEW)}
      </summary>
      <p>{labels.slice(FEW).join("; ")}</p>
    </details>
  );
};
