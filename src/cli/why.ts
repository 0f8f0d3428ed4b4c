// Owns the command `why`: the chain of reasons for one step of the plan, and what doing without it or otherwise would cost.

import { describeAlternative, describeOrder, describeReason, labelOf, type Question } from "../plan/index.ts";
import type { Choice, Reason } from "../release/index.ts";
import { computeAside } from "./background.ts";
import type { Call } from "./call.ts";
import type { WhyDocument } from "./documents.ts";
import type { Exit } from "./exit.ts";
import { sayAlternative } from "./reasons.ts";
import { ENDED, refuse, takeAsked, tellRelease } from "./release.ts";
import { type Terminal, wrap } from "./terminal.ts";
import type { Answer, Asked } from "./thread.ts";
import { mendWord } from "./words.ts";

export async function runWhy(call: Call, terminal: Terminal): Promise<Exit> {
  const [path = "", about = ""] = call.operands;
  const asked = await takeAsked("why", path, call, terminal);
  if (typeof asked === "number") return asked;
  const { question } = asked;
  const known = [...question.problem.connections, ...question.problem.tasks].map(({ id }) => id);
  if (!known.includes(about)) {
    return refuse([{ what: `there is no connection or task called ${about}`, mend: mendWord(about, known) }], terminal);
  }
  const answer = await computeAside<Asked, Answer>(asked, terminal);
  const { result, chain, choice } = answer;
  const json = call.flags.has("json");
  if (chain === undefined || choice === undefined) {
    // No plan, so nothing is in it: why there is none is what there is to say.
    return tellRelease(call, question, answer, terminal);
  }
  if (json) {
    const document: WhyDocument = {
      format: "unmoor/why/1",
      file: path,
      asked: describeOrder(question.order),
      status: result.status,
      labour: result.plan?.labour ?? 0,
      label: labelOf(question, about),
      chain: chain.map((reason) => describeReason(question, reason)),
      ...describeChoice(choice),
    };
    terminal.say(JSON.stringify(document, undefined, 2));
  } else terminal.say(sayWhy(question, chain, choice, terminal));
  return ENDED[result.status];
}

function describeChoice({
  id,
  made,
  way,
  without,
  ways,
}: Choice): Pick<WhyDocument, "id" | "made" | "way" | "without" | "ways"> {
  return {
    id,
    made,
    ...(way === undefined ? {} : { way }),
    ...(without === undefined ? {} : { without: describeAlternative(without) }),
    ways: ways.map((one) => ({ way: one.way, with: describeAlternative(one.with) })),
  };
}

function sayWhy(
  question: Question,
  chain: readonly Reason[],
  { id, made, way, without, ways }: Choice,
  terminal: Terminal,
): string {
  const { ink, width } = terminal;
  const name = `${labelOf(question, way ?? id)} (${id})`;
  const released = question.problem.released.includes(id);
  const verb = question.problem.connections.some((one) => one.id === id) ? "released" : "done";
  const links = chain.flatMap((reason, index) => {
    const { step, says } = describeReason(question, reason);
    return wrap(`${index + 1}. Without "${labelOf(question, step)}" (${step}): ${says}`, width, "  ");
  });
  const last = chain.at(-1);
  const head = made
    ? [
        ink.strong(`${name} is ${verb}, because`),
        ...links,
        ...(last ? ["  which the order itself asks for."] : ["  nothing would break without it."]),
      ]
    : [ink.strong(`${name} is not ${verb} by this plan${released ? ": it is released already" : ""}.`)];
  const others = [
    ...(without ? [`Without it: ${sayAlternative(without)}`] : []),
    ...ways.map(
      (one) =>
        `${one.way === id ? "With it" : `By ${labelOf(question, one.way)} (${one.way})`}: ${sayAlternative(one.with)}`,
    ),
  ];
  return [
    ...head,
    ...(others.length > 0 ? ["", ink.strong("Otherwise")] : []),
    ...others.flatMap((text) => wrap(text, width, "  ")),
  ].join("\n");
}
