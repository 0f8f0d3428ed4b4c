// Owns the command `gate`: what each gate answers, and what is missing, where, and who could do it.

import { GATES, type GateName } from "../ledger/index.ts";
import { describeGates } from "../server/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { refuse } from "./release.ts";
import { sayGates } from "./run-text.ts";
import { atShop, warnOfDamage } from "./shop.ts";
import type { Terminal } from "./terminal.ts";
import { mendWord } from "./words.ts";

const isGate = (word: string): word is GateName => (GATES as readonly string[]).includes(word);

export function runGate(call: Call, terminal: Terminal): Promise<Exit> | Exit {
  const [, id = "", word] = call.operands;
  if (word !== undefined && !isGate(word))
    return refuse([{ what: `there is no gate ${word}`, mend: mendWord(word, GATES) }], terminal);
  const lift = call.flags.get("lift")?.[0];
  return atShop(call, terminal, async (shop) => {
    const desk = await shop.desk(id);
    warnOfDamage(desk, terminal);
    const lifts = desk.brief.lifts.map(({ task }) => task);
    if (lift !== undefined && !lifts.includes(lift))
      return refuse([{ what: `the plan has no lift ${lift}`, mend: mendWord(lift, lifts) }], terminal);
    const document = describeGates(desk, word, lift);
    const { gates } = document;
    terminal.say(call.flags.has("json") ? JSON.stringify(document, undefined, 2) : sayGates(gates, terminal));
    return desk.damages.length === 0 && gates.every(({ open }) => open) ? EXIT.found : EXIT.not;
  });
}
