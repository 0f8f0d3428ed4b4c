// Owns notes as they are read and heard again: with what they are about, or all of a run, the latest first.

import { Names } from "../../ledger/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { Photos } from "./photos.tsx";
import { Voices } from "./voices.tsx";
import { useWork } from "./work.tsx";

/** As many as anybody reads. */
const MOST = 50;

/** @param about only those about it; all of the run where it is left out */
export const Notes = ({ about }: { readonly about?: string }) => {
  const words = useWords();
  const figures = useFigures();
  const { book } = useWork();
  const names = new Names(book.brief);
  const notes = book.ledger
    .list("remarks", "note")
    .filter(({ body }) => about === undefined || body.about === about)
    .slice(-MOST)
    .reverse();
  if (notes.length === 0) return null;
  return (
    <section class="notes">
      <h2>{words.hand.notes}</h2>
      <ul>
        {notes.map(({ id, author, at, body: { text, about: of, photos = [], voices = [] } }) => (
          <li key={id}>
            <p>
              {about !== undefined || of === undefined ? null : <b>{names.label(of)}: </b>}
              {text}{" "}
              <small>
                {names.person(author)}, {figures.time(at)}
              </small>
            </p>
            <Photos digests={photos} run={book.run} />
            <Voices digests={voices} run={book.run} />
          </li>
        ))}
      </ul>
    </section>
  );
};
