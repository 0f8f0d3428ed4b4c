// Owns the sheet of the order: the order as a sentence, its answer in figures, what comes off and why, and another answer beside it.

import { useState } from "preact/hooks";
import { Link, useLocation, useSearch } from "wouter-preact";
import type { Plan } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { Help } from "../sheet/help.tsx";
import { verbBefore } from "../sheet/step-words.ts";
import { useModel } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import { Beside } from "./beside.tsx";
import { CurveOfOrder } from "./curve-of-order.tsx";
import { Edge } from "./edge.tsx";
import { Elapsed } from "./elapsed.tsx";
import { Give } from "./give.tsx";
import { NoPlanYet } from "./no-plan.tsx";
import { type OrderState, useOrderState, writeOrder } from "./order-state.ts";
import { Others } from "./others.tsx";
import { Print } from "./print.tsx";
import { Sentence } from "./sentence.tsx";
import { usePlan } from "./use-plan.ts";
import { Why } from "./why.tsx";

export const OrderSheet = () => {
  const words = useWords();
  const { vehicle, release } = usePlan();
  const [state, change] = useOrderState();
  const search = useSearch();
  const [path, navigate] = useLocation();
  const against = new URLSearchParams(search).get("against") ?? undefined;
  /** The order changed in one point, the answer before kept beside it. */
  const tryOut = (part: Partial<OrderState>) => {
    const before = against ?? writeOrder(state);
    const next = new URLSearchParams(writeOrder({ ...state, ...part }, search));
    next.set("against", before);
    navigate(`${path}?${next}`);
  };
  if (vehicle === undefined) return null;
  const plan = release.data?.plan;
  return (
    <div class="order">
      <Sentence vehicle={vehicle} state={state} onChange={change} />
      {against === undefined ? null : <Beside vehicle={vehicle} before={against} release={release} />}
      {plan === undefined ? (
        <NoPlanYet release={release} />
      ) : (
        <div class={release.isPlaceholderData ? "answer-body busy" : "answer-body"}>
          <Figures plan={plan} />
          <ComesOff plan={plan} labour={release.data?.labour ?? {}} onTry={tryOut} state={state} vehicle={vehicle} />
          <div class="besides">
            <Give />
            <Print />
            <Edge onTry={tryOut} state={state} />
            <Others onTry={tryOut} state={state} />
            <CurveOfOrder />
            <Help title={words.order.help.title}>{words.order.help.text}</Help>
          </div>
        </div>
      )}
    </div>
  );
};

const Figures = ({ plan }: { readonly plan: Plan }) => {
  const words = useWords();
  const figures = useFigures();
  const { labour, bound, work, waiting } = plan.figures;
  const releases = plan.out
    .flatMap(({ steps }) => steps)
    .filter(({ action }) => action === "release" || action === "loosen");
  return (
    <div class="figures">
      <div class="figure">
        <small>{words.order.labour}</small>
        <b>{figures.minutes(labour)}</b>
        <small>
          {plan.status === "optimal"
            ? words.order.provedLeast
            : words.order.atLeast(figures.minutes(bound), figures.percent((labour - bound) / labour, 1))}
          {work > 0 ? `; ${words.order.ownWork(figures.minutes(work))}` : ""}
          {waiting > 0 ? `; ${words.order.waiting(figures.minutes(waiting))}` : ""}
        </small>
      </div>
      <Elapsed />
      <div class="figure">
        <small>{words.order.comesOff}</small>
        <b>{words.order.connections(releases.length)}</b>
        <small>{words.order.visits(plan.moves.out, plan.moves.outFewest)}</small>
      </div>
      {plan.lifts.map(({ task, label, mass, limit, hoist, parts }) => (
        <div class="figure" key={task}>
          <small>{label}</small>
          <b>{figures.measure(mass, "mass")}</b>
          <small>
            {parts.map((part) => part.label).join(", ")}
            {limit === null ? "" : `; ${words.order.limit(figures.measure(limit, "mass"), hoist?.label ?? "")}`}
          </small>
        </div>
      ))}
      <div class="figure">
        <small>{words.order.checked}</small>
        <b>{plan.checks.out.legal && plan.checks.back.holds ? words.order.replayed : words.order.backFails}</b>
        <small>{words.order.checkedHow(plan.checks.out.steps, plan.checks.back.steps, plan.checks.out.searched)}</small>
      </div>
    </div>
  );
};

interface ComesOffProps {
  readonly plan: Plan;
  readonly labour: Readonly<Record<string, number>>;
  readonly state: OrderState;
  readonly vehicle: Vehicle;
  readonly onTry: (part: Partial<OrderState>) => void;
}

/** Visit by visit, in the order of the plan. */
const ComesOff = ({ plan, labour, state, vehicle, onTry }: ComesOffProps) => {
  const words = useWords();
  const figures = useFigures();
  const { base } = useModel();
  const [open, setOpen] = useState<string>();
  const connections = new Set(vehicle.connections.map(({ id }) => id));
  return (
    <section class="comes-off" aria-labelledby="comes-off">
      <h2 id="comes-off">{words.order.off}</h2>
      {plan.out.length === 0 ? <p class="soft">{words.order.nothingOff}</p> : null}
      {plan.out.map(({ label, steps, minutes }) => (
        <section key={steps[0]?.number}>
          <h3>
            {label} <span>{figures.minutes(minutes)}</span>
          </h3>
          <ol>
            {steps.map((step) => {
              const isOpen = open === step.id;
              return (
                <li key={step.number}>
                  <button
                    type="button"
                    class="row"
                    aria-expanded={isOpen}
                    onClick={() => setOpen(isOpen ? undefined : step.id)}
                  >
                    <span class="number">{step.number}</span>
                    <span class="name">
                      {step.action === "release" ? "" : verbBefore(words, step.action)}
                      {step.label}
                    </span>
                    <small>{labour[step.id] === undefined ? "" : figures.minutes(labour[step.id] ?? 0)}</small>
                  </button>
                  {isOpen ? (
                    <div class="opened">
                      <Why about={step.id} />
                      <p>
                        <Link
                          class="button"
                          href={`/${base.from}/${encodeURIComponent(base.id)}/ties?${writeOrder(state)}&step=${step.number}&tie=${encodeURIComponent(step.id)}`}
                        >
                          {words.order.onChart}
                        </Link>{" "}
                        {connections.has(step.id) ? (
                          <button type="button" onClick={() => onTry({ released: [...state.released, step.id] })}>
                            {words.order.isReleased}
                          </button>
                        ) : null}
                      </p>
                    </div>
                  ) : null}
                </li>
              );
            })}
          </ol>
        </section>
      ))}
    </section>
  );
};
