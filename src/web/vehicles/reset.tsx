// Owns dropping what was changed here: it says first what would be lost, and can be taken back as long as the sheet is open.

import { useMemo, useRef, useState } from "preact/hooks";
import type { Files } from "../engine/asked.ts";
import { useModel } from "../shop/model.tsx";
import { useKept } from "../shop/versions.ts";
import { useWords } from "../words/words.ts";
import { DownloadButtons } from "./downloads.tsx";
import { compareLines } from "./line-changes.ts";

export const Reset = () => {
  const words = useWords();
  const model = useModel();
  const { base, files, version, isDraft, isFixed, madeFrom, reset, replace } = model;
  const kept = useKept();
  const dialog = useRef<HTMLDialogElement>(null);
  const [isAsked, setAsked] = useState(false);
  const [dropped, setDropped] = useState<{ readonly files: Files; readonly madeFrom: number }>();
  if (isFixed || base.from === "mine" || kept === undefined) return null;
  if (!isDraft)
    return dropped === undefined ? null : (
      <p class="notice small" role="status">
        {words.vehicle.reset.done}
        <button
          type="button"
          onClick={() => {
            replace(dropped.files, dropped.madeFrom);
            setDropped(undefined);
          }}
        >
          {words.vehicle.reset.undo}
        </button>
      </p>
    );
  const close = () => {
    dialog.current?.close();
    setAsked(false);
  };
  return (
    <>
      <p>
        <button
          type="button"
          class="plain small"
          onClick={() => {
            setAsked(true);
            dialog.current?.showModal();
          }}
        >
          {words.vehicle.reset.open}
        </button>
      </p>
      <dialog ref={dialog} aria-labelledby="reset" onClose={() => setAsked(false)}>
        <div class="stack">
          <h2 id="reset">{words.vehicle.reset.title}</h2>
          {isAsked ? <Loses before={kept} after={files} /> : null}
          <p class="small soft">
            {words.vehicle.reset.since(base.from === "demo" ? words.sheet.demo : words.sheet.version(version))}
          </p>
          <DownloadButtons files={files} label={words.vehicle.reset.download} />
          <p class="row">
            <button
              type="button"
              class="main"
              onClick={() => {
                setDropped({ files, madeFrom });
                close();
                reset();
              }}
            >
              {words.vehicle.reset.confirm}
            </button>
            <button type="button" onClick={close}>
              {words.vehicle.reset.stay}
            </button>
          </p>
        </div>
      </dialog>
    </>
  );
};

const Loses = ({ before, after }: { readonly before: Files; readonly after: Files }) => {
  const words = useWords();
  const changes = useMemo(() => compareLines(before, after), [before, after]);
  const lines = changes.reduce((sum, { added, removed }) => sum + Math.max(added, removed), 0);
  return <p>{changes.length === 0 ? words.vehicle.reset.same : words.vehicle.reset.loses(lines, changes.length)}</p>;
};
