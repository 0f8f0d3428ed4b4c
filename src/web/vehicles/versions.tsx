// Owns the versions of the model on the sheet: which there are, by whom and when, opening one, and what changed between two.

import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Link, useLocation } from "wouter-preact";
import type { Files } from "../engine/asked.ts";
import { useFigures } from "../sheet/figures.ts";
import { Failed } from "../sheet/states.tsx";
import { useModel } from "../shop/model.tsx";
import { take } from "../shop/shelf.ts";
import { useKept, useVersion } from "../shop/versions.ts";
import { useWords } from "../words/words.ts";
import { Changes } from "./changes.tsx";

/** Versions that are listed before somebody asks for older ones. */
const FEW = 12;
/** What is compared besides the numbers of versions: the text that is here now. */
const HERE = "here";

export const Versions = () => {
  const words = useWords();
  const { base, run, isDraft, files } = useModel();
  const kept = useKept();
  const id = base.from === "vehicles" ? base.id : run?.vehicle;
  const latest = useVersion(id);
  if (id === undefined)
    return (
      <div class="versions stack">
        <p class="soft">{words.vehicle.version.none}</p>
        {isDraft && kept !== undefined ? (
          <section class="stack">
            <h2>{words.vehicle.version.compare}</h2>
            <Changes before={kept} after={files} />
          </section>
        ) : null}
      </div>
    );
  if (latest.error !== null) return <Failed error={latest.error} again={() => void latest.refetch()} />;
  if (latest.data === undefined) return <p class="waiting busy">{words.sheet.reading}</p>;
  return <OfShop id={id} count={latest.data.version} />;
};

const OfShop = ({ id, count }: { readonly id: string; readonly count: number }) => {
  const words = useWords();
  const { version, madeFrom, isFixed, isDraft } = useModel();
  const [shown, setShown] = useState(FEW);
  const numbers = Array.from({ length: count }, (_, n) => count - n);
  // What nobody chose follows what is shown.
  const [chosen, setChosen] = useState<{ readonly from?: string; readonly to?: string }>({});
  const held = chosen.to === HERE && !isDraft ? undefined : chosen.to;
  const to = held ?? (isFixed ? String(version) : isDraft ? HERE : String(count));
  const before = to === HERE ? madeFrom : Number(to) - 1;
  const from =
    chosen.from !== undefined && (isDraft || chosen.from !== HERE) ? chosen.from : String(Math.max(1, before));
  const choices = [...(isDraft && !isFixed ? [HERE] : []), ...numbers.map(String)];
  const choice = (label: string, value: string, set: (value: string) => void) => (
    <label class="field">
      <span>{label}</span>
      <select value={value} onChange={({ currentTarget }) => set(currentTarget.value)}>
        {choices.map((one) => (
          <option key={one} value={one}>
            {one === HERE ? words.vehicle.version.here : words.vehicle.version.n(Number(one))}
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <div class="versions stack">
      <p class="soft small">{words.vehicle.version.lead}</p>
      <ol reversed class="list">
        {numbers.slice(0, shown).map((n) => (
          <Row key={n} id={id} n={n} isLatest={n === count} isShown={isFixed && n === version} />
        ))}
      </ol>
      {count > shown ? (
        <button type="button" onClick={() => setShown(shown + 4 * FEW)}>
          {words.vehicle.version.older}
        </button>
      ) : null}
      {choices.length < 2 ? null : (
        <section class="stack" aria-labelledby="compare">
          <h2 id="compare">{words.vehicle.version.compare}</h2>
          <div class="looking">
            {choice(words.vehicle.version.from, from, (value) => setChosen({ ...chosen, from: value }))}
            {choice(words.vehicle.version.to, to, (value) => setChosen({ ...chosen, to: value }))}
          </div>
          <Between id={id} from={from} to={to} />
        </section>
      )}
    </div>
  );
};

interface RowProps {
  readonly id: string;
  readonly n: number;
  readonly isLatest: boolean;
  readonly isShown: boolean;
}

const Row = ({ id, n, isLatest, isShown }: RowProps) => {
  const words = useWords();
  const figures = useFigures();
  const { data } = useVersion(id, n);
  const said = [
    data === undefined ? undefined : words.vehicle.version.kept(data.by, figures.moment(data.at)),
    isLatest ? words.vehicle.version.latest : undefined,
    isShown ? words.vehicle.version.shown : undefined,
  ].filter((one) => one !== undefined);
  return (
    <li>
      <b>{words.vehicle.version.n(n)}</b> <span class="small soft">{said.join("; ")}</span>
      {isShown ? null : (
        <Link
          href={`/vehicles/${encodeURIComponent(id)}/vehicle?version=${n}&view=text`}
          aria-label={words.vehicle.version.openOf(n)}
        >
          {words.vehicle.version.open}
        </Link>
      )}
    </li>
  );
};

const Between = ({ id, from, to }: { readonly id: string; readonly from: string; readonly to: string }) => {
  const words = useWords();
  const { files } = useModel();
  const numberOf = (one: string): number | undefined => (one === HERE ? undefined : Number(one));
  const old = useVersion(numberOf(from) === undefined ? undefined : id, numberOf(from) ?? 1);
  const now = useVersion(numberOf(to) === undefined ? undefined : id, numberOf(to) ?? 1);
  const before: Files | undefined = from === HERE ? files : old.data?.files;
  const after: Files | undefined = to === HERE ? files : now.data?.files;
  const error = old.error ?? now.error;
  if (error !== null) return <Failed error={error} />;
  if (before === undefined || after === undefined) return <p class="waiting busy">{words.sheet.reading}</p>;
  return <Changes key={`${from} ${to}`} before={before} after={after} />;
};

/** Stands above an earlier version that is looked at: the way back, and the way on from there. */
export const Looking = () => {
  const words = useWords();
  const { base, version, run, isFixed } = useModel();
  const [path, navigate] = useLocation();
  if (!isFixed) return null;
  if (run !== undefined)
    return (
      <div class="notice">
        <p>
          <b>{words.vehicle.version.ofRun(base.id, version)}</b>
        </p>
        <Link class="button" href={`/vehicles/${encodeURIComponent(run.vehicle)}/vehicle`}>
          {words.vehicle.version.toVehicle}
        </Link>
      </div>
    );
  return (
    <div class="notice">
      <p>
        <b>{words.vehicle.version.looking(version)}</b>
      </p>
      <GoOn id={base.id} onGone={() => navigate(`${path}?view=text`)}>
        <Link class="button" href={path}>
          {words.vehicle.version.backToLatest}
        </Link>
      </GoOn>
    </div>
  );
};

interface GoOnProps {
  readonly id: string;
  readonly onGone: () => void;
  readonly children: ComponentChildren;
}

const GoOn = ({ id, onGone, children }: GoOnProps) => {
  const words = useWords();
  const { base, files, replace } = useModel();
  const latest = useVersion(id);
  const [isHeld, setHeld] = useState(false);
  useEffect(() => {
    void take(base).then((kept) => setHeld(kept !== undefined));
  }, [base]);
  const count = latest.data?.version;
  return (
    <>
      <p class="row">
        {children}
        {count === undefined ? null : (
          <button
            type="button"
            onClick={() => {
              replace(files, count);
              onGone();
            }}
          >
            {words.vehicle.version.goOn}
          </button>
        )}
      </p>
      <p class="small soft">
        {words.vehicle.version.goOnHow} {isHeld ? <b>{words.vehicle.version.goOnLoses}</b> : null}
      </p>
    </>
  );
};
