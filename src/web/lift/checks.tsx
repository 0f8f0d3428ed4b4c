// Owns every check of a lift: which passed on which figures, from which source; never more than that.

import { HOOK, type PadCheck, padOf } from "../../plan/index.ts";
import {
  type Check,
  type Fault,
  type FaultSaid,
  type Remark,
  sayRefusal,
  sayRemarks,
  type Writing,
} from "../../rigging/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";

/** What needs a person first. */
const ORDER: Readonly<Record<Check["verdict"], number>> = { fails: 0, attention: 1, "not checked": 2, passes: 3 };

/** Figures in the reader's units. */
const useWriting = (): Writing => {
  const figures = useFigures();
  return {
    force: (newtons) => figures.measure(newtons, "force"),
    angle: (degrees) => figures.degrees(degrees),
    length: (metres) => figures.measure(metres, "length"),
    short: (metres) => figures.measure(metres, "short"),
    mass: (kilograms) => figures.measure(kilograms, "mass"),
    number: (value, digits) => figures.number(value, digits),
  };
};

/** Remarks in the reader's language and units. */
export const useSaying = (): ((...remarks: readonly Remark[]) => string) => {
  const { lift } = useWords();
  const writing = useWriting();
  return (...remarks) => sayRemarks(lift.said, remarks, writing);
};

/** What keeps a lift from being reckoned, in the reader's language and units. */
export const useRefusing = (): ((fault: Fault) => FaultSaid) => {
  const { lift } = useWords();
  const writing = useWriting();
  return (fault) => sayRefusal(lift.refusing, fault, writing);
};

/** What holds something meanwhile: each pad after the step at which it bears most. */
export const Holding = ({
  holding,
  name,
}: {
  readonly holding: readonly PadCheck[];
  readonly name: (id: string) => string;
}) => {
  const words = useWords();
  const bearing = (at: string): string => {
    const pad = padOf(at);
    return pad === at ? name(at) : `${name(at.slice(0, -` pad ${pad}`.length))}, ${words.lift.pad} ${pad}`;
  };
  if (holding.length === 0) return null;
  return (
    <section aria-labelledby="holding">
      <h2 id="holding">{words.lift.holding}</h2>
      <p class="small soft">{words.lift.holdingHow}</p>
      <CheckList
        checks={holding.map(({ step, check }) => ({
          ...check,
          title: `${bearing(check.at)}, ${words.lift.afterStep(step)}`,
        }))}
      />
    </section>
  );
};

/** What a check is about, by what the file calls it; a hoist's own hook and the load have no name in it. */
export const useTitle = (name: (id: string) => string) => {
  const { lift } = useWords();
  return (check: Check["check"], at: string, gear?: string): string => {
    const about = check === "pad" ? padOf(at) : at === HOOK || check === "tipping" ? "" : lift.thing(name(at));
    return `${lift.checkNames[check]} ${about}`.trim().concat(gear === undefined ? "" : `, ${lift.thing(gear)}`);
  };
};

export const Checks = ({
  checks,
  name,
}: {
  readonly checks: readonly Check[];
  readonly name: (id: string) => string;
}) => {
  const words = useWords();
  const title = useTitle(name);
  return (
    <section aria-labelledby="checks">
      <h2 id="checks">{words.lift.checks}</h2>
      <CheckList checks={checks.map((one) => ({ ...one, title: title(one.check, one.at, one.gear) }))} />
    </section>
  );
};

/** Share of the limit that is spent: of an angle, which may not be less, the limit's share of it. */
const spentOf = ({ unit, value, limit, margin }: Check): number | undefined =>
  margin === undefined || !Number.isFinite(margin)
    ? undefined
    : unit === "°" && limit !== undefined
      ? value > 0
        ? limit / value
        : 1
      : 1 - margin;

const CheckList = ({ checks }: { readonly checks: readonly (Check & { readonly title: string })[] }) => {
  const words = useWords();
  const figures = useFigures();
  const say = useSaying();
  const sorted = checks.toSorted((a, b) => ORDER[a.verdict] - ORDER[b.verdict]);
  const value = ({ unit }: Check, figure: number) =>
    unit === "N"
      ? figures.measure(figure, "force")
      : unit === "°"
        ? figures.degrees(figure)
        : figures.measure(figure, "length");
  return (
    <ul class="checks">
      {sorted.map((check) => {
        const { check: kind, at, gear, verdict, limit, figures: how, source, assumed, mend } = check;
        const spent = spentOf(check);
        return (
          <li key={`${kind} ${at} ${gear ?? ""}`}>
            <details open={verdict !== "passes"}>
              <summary>
                <span class={`verdict ${verdict.replace(" ", "-")}`}>{words.lift.verdicts[verdict]}</span>
                <span>{check.title}</span>
                <span class="spent" aria-hidden="true">
                  {spent === undefined ? null : <i style={{ width: `${100 * Math.min(1, Math.max(0, spent))}%` }} />}
                </span>
                <small class="number">
                  {Number.isFinite(check.value) ? value(check, check.value) : "–"}
                  {limit === undefined ? "" : ` / ${value(check, limit)}`}
                </small>
              </summary>
              <p>{say(...how)}</p>
              <p class="soft">
                {assumed ? "≈ " : ""}
                {words.lift.source(source)}
              </p>
              {mend === undefined ? null : <p>{say(mend)}</p>}
            </details>
          </li>
        );
      })}
    </ul>
  );
};
