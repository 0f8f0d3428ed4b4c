// Owns what is left over: pieces that came out and did not go in again, and where each could belong; read from the counts of the book.

import { useWords } from "../words/words.ts";
import { useWork } from "./work.tsx";

export const LeftOver = () => {
  const words = useWords();
  const { book } = useWork();
  const { ledger, brief } = book;
  const items = new Map<string, { out: number; back: number; at: string[] }>();
  for (const { id, label } of brief.joints)
    for (const [item, { out, in: back }] of ledger.joint(id).counts) {
      const known = items.get(item) ?? { out: 0, back: 0, at: [] };
      known.out += out;
      known.back += back;
      if (out !== back) known.at.push(label);
      items.set(item, known);
    }
  const left = [...items].filter(([, { at }]) => at.length > 0);
  if (left.length === 0) return null;
  return (
    <section class="left-over" aria-labelledby="left-over">
      <h2 id="left-over">{words.hand.leftOver}</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.hand.piece}</th>
            <th scope="col">{words.hand.cameOut}</th>
            <th scope="col">{words.hand.wentIn}</th>
            <th scope="col">{words.hand.belongs}</th>
          </tr>
        </thead>
        <tbody>
          {left.map(([item, { out, back, at }]) => (
            <tr key={item}>
              <th scope="row">{item}</th>
              <td>{out}</td>
              <td>{back}</td>
              <td>{at.join("; ")}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
};
