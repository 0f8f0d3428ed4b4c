// Owns the command `kit`: everything that the work of an order takes, as lists for bags, store and bench.

import { kitOf } from "../plan/index.ts";
import { computeAside } from "./background.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { KitDocument } from "./fastening-documents.ts";
import { takeAsked, tellRelease } from "./release.ts";
import { type Terminal, wrap } from "./terminal.ts";
import type { Answer, Asked } from "./thread.ts";

/** Lines of the stand-by list that fit on a page; the document has them all. */
const STAND_BY = 12;

export async function runKit(call: Call, terminal: Terminal): Promise<Exit> {
  const path = call.operands[0] ?? "";
  const asked = await takeAsked("plan", path, call, terminal);
  if (typeof asked === "number") return asked;
  const answer = await computeAside<Asked, Answer>(asked, terminal);
  const json = call.flags.has("json");
  if (answer.plan === undefined) {
    return tellRelease(call, asked.question, answer, terminal);
  }
  const kit: KitDocument = kitOf(answer.plan, asked.question.vehicle);
  terminal.say(json ? JSON.stringify(kit, undefined, 2) : sayKit(kit, terminal));
  return kit.uneven.length > 0 ? EXIT.not : EXIT.found;
}

function sayKit(kit: KitDocument, { ink, width }: Terminal): string {
  const list = (items: readonly { readonly item: string; readonly count: number }[]) =>
    items.map(({ item, count }) => `${count} × ${item}`).join(", ");
  const part = (head: string, lines: readonly string[]) => (lines.length === 0 ? [] : ["", ink.strong(head), ...lines]);
  const line = (text: string) => wrap(text, width, "  ");
  return [
    `${ink.strong(`Kit: ${kit.jobs.map(({ label }) => label).join(", ")}`)}, ${kit.vehicle}${kit.note === undefined ? "" : ` (${kit.note})`}`,
    ...part(
      "BAGS  one a connection; count in what count out says",
      kit.bags.flatMap((bag) =>
        line(
          `[ ] ${bag.connection}: ${list(bag.hardware)}; out at ${bag.out}, in at ${bag.in ?? "no step"}${bag.scrap > 0 ? `; ${bag.scrap} not used again` : ""}`,
        ),
      ),
    ),
    ...part(
      "NEW PARTS",
      kit.newParts.flatMap(({ item, count, steps }) => line(`[ ] ${count} × ${item} (step ${steps.join(", ")})`)),
    ),
    ...part(
      "FLUIDS  what runs out, as far as the file says",
      kit.fluids.flatMap(({ fluid, litres, unstated }) =>
        line(
          `[ ] ${fluid}: ${[
            ...(litres > 0 ? [`${Number(litres.toFixed(2))} L`] : []),
            ...(unstated.length > 0 ? [`an amount that nobody states: ${unstated.join(", ")}`] : []),
          ].join(", and ")}`,
        ),
      ),
    ),
    ...part(
      "USED AGAIN by the file, new each time by common practice: ask the maker's book",
      kit.usuallyNew.flatMap(({ item, count, at, step }) => line(`${count} × ${item} at ${at}, step ${step}`)),
    ),
    ...part(
      "PLUGS AND CAPS",
      kit.plugs.flatMap(({ item, count }) => line(`[ ] ${count} × ${item}`)),
    ),
    ...part(
      "PUT IN FOR THE JOB  every one comes out again",
      kit.temporary.flatMap(({ item, count }) => line(`[ ] ${count} × ${item}`)),
    ),
    ...part(
      "USED UP",
      kit.consumables.flatMap(({ item, count }) => line(`[ ] ${count} × ${item}`)),
    ),
    ...part(
      "TOOLS BY POSITION",
      kit.tools.flatMap(({ position, tools }) => line(`${position}: ${tools.map(({ tool }) => tool).join(", ")}`)),
    ),
    ...part("STAND BY  in case", [
      ...kit.standBy.slice(0, STAND_BY).flatMap(({ item, chance, delay, for: findings }) =>
        line(
          `${item}: ${(chance * 100).toFixed(1)} % for ${delay} min (${findings[0]?.finding}, ${findings
            .map(({ at }) => at)
            .slice(0, 3)
            .join(", ")}${findings.length > 3 ? " …" : ""})`,
        ),
      ),
      ...(kit.standBy.length > STAND_BY ? [`  and ${kit.standBy.length - STAND_BY} more, in --json`] : []),
      ...line(kit.standByNote),
    ]),
    ...kit.transfers.flatMap(({ parts }) =>
      part(
        "CARRIED OVER to the new assembly",
        parts.flatMap(({ label, ties, fresh, settings }) =>
          line(
            `[ ] ${label}: ${ties.map(({ connection }) => connection).join(", ") || "by itself"}${fresh.length > 0 ? `; new ${list(fresh)}` : ""}${settings.length > 0 ? `; ${settings.join("; ")}` : ""}`,
          ),
        ),
      ),
    ),
    ...part(
      "DOES NOT COME OUT EVEN",
      kit.uneven.flatMap(({ what, item, count, at, step }) =>
        line(`${ink.bad(what)}: ${count} × ${item} at ${at}, step ${step}`),
      ),
    ),
  ].join("\n");
}
