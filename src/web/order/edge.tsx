// Owns the parts at the edge of a lift: each could go along or stay, and what the other choice would cost.

import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { AskedFor } from "./asked-for.tsx";
import type { OrderState } from "./order-state.ts";
import { usePlan } from "./use-plan.ts";

export const Edge = ({
  state,
  onTry,
}: {
  readonly state: OrderState;
  readonly onTry: (part: Partial<OrderState>) => void;
}) => {
  const words = useWords();
  const figures = useFigures();
  const { order, release, vehicle } = usePlan();
  const hasLift = (release.data?.plan?.lifts.length ?? 0) > 0;
  const label = (id: string) => vehicle?.parts.find((part) => part.id === id)?.label ?? id;
  if (!hasLift || order === undefined) return null;
  return (
    <AskedFor kind="edge" body={{ order }} title={words.order.edge} question={words.order.askEdge}>
      {(parts) =>
        parts.length === 0 ? (
          <p class="soft">{words.order.noEdge}</p>
        ) : (
          <table>
            <tbody>
              {parts.map(({ part, goes, otherwise }) => (
                <tr key={part}>
                  <td>
                    {label(part)} <small class="soft">{goes ? words.order.goes : words.order.stays}</small>
                  </td>
                  <td class="number">
                    {otherwise.status === "infeasible"
                      ? words.order.cannot
                      : otherwise.more === undefined
                        ? words.order.notKnown
                        : `${otherwise.more >= 0 ? "+" : "−"}${figures.minutes(Math.abs(otherwise.more))}`}
                  </td>
                  <td class="number">
                    <button
                      type="button"
                      class="plain"
                      onClick={() =>
                        onTry(
                          goes
                            ? { keep: [...state.keep, part], take: state.take.filter((id) => id !== part) }
                            : { take: [...state.take, part], keep: state.keep.filter((id) => id !== part) },
                        )
                      }
                    >
                      {goes ? words.order.keepThis(label(part)) : words.order.takeThis(label(part))}
                    </button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )
      }
    </AskedFor>
  );
};
