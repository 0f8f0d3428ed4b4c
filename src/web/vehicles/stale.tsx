// Owns the choice where somebody else kept a version since: look at theirs, compare, or keep one's own after it.

import { useRef, useState } from "preact/hooks";
import { Link } from "wouter-preact";
import { useFigures } from "../sheet/figures.ts";
import { useModel } from "../shop/model.tsx";
import type { KeptVersion } from "../shop/versions.ts";
import { useWords } from "../words/words.ts";
import { Changes } from "./changes.tsx";

interface StaleProps {
  readonly id: string;
  readonly theirs: KeptVersion;
  readonly onMine: (onto: number) => void;
}

export const Stale = ({ id, theirs, onMine }: StaleProps) => {
  const words = useWords();
  const figures = useFigures();
  const { base, files } = useModel();
  const dialog = useRef<HTMLDialogElement>(null);
  const [isCompared, setCompared] = useState(false);
  const { keep } = words.vehicle;
  const isOwn = base.from === "vehicles" && base.id === id;
  return (
    <div class="notice" role="alert">
      <p>
        <b>{isOwn ? keep.stale(id, theirs.version) : keep.taken(id, theirs.version)}</b>
      </p>
      <p class="small">{keep.staleBy(theirs.by, figures.moment(theirs.at))}</p>
      <p class="row">
        <button
          type="button"
          onClick={() => {
            setCompared(true);
            dialog.current?.showModal();
          }}
        >
          {keep.compare}
        </button>
        <Link class="button" href={`/vehicles/${encodeURIComponent(id)}/vehicle?version=${theirs.version}&view=text`}>
          {keep.openTheirs}
        </Link>
      </p>
      <dialog ref={dialog} class="compared" aria-labelledby="compared" onClose={() => setCompared(false)}>
        <div class="stack">
          <h2 id="compared">
            {keep.theirs(theirs.version)} → {keep.mine}
          </h2>
          {isCompared ? <Changes before={theirs.files} after={files} /> : null}
          <p>
            <button type="button" onClick={() => dialog.current?.close()}>
              {words.sheet.close}
            </button>
          </p>
        </div>
      </dialog>
      <p>
        <button type="button" class="main" onClick={() => onMine(theirs.version)}>
          {keep.mineNext(theirs.version + 1)}
        </button>
      </p>
      <p class="small soft">
        {keep.mineNextHow} {isOwn ? "" : keep.otherName}
      </p>
    </div>
  );
};
