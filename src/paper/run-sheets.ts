// Owns the pages of a run: the shift-change page and the as-run record, with the ledger's last hash of each device.

import { type BriefTorque, type Entry, type Finding, hashOf, type ShiftPage } from "../ledger/index.ts";
import { isWithin, TORQUE_SHARE, torqueLimits } from "../plan/index.ts";
import { readQuantity } from "../quantity/index.ts";
import { type Called, contradictionSentence, entrySentence, type Recorded } from "./entry-sentence.ts";
import type { Figures } from "./figures.ts";
import type { Words } from "./said.ts";
import type { Block, Cell, Column, Sheet } from "./sheet.ts";

/** A run as far as paper goes: whoever has its ledger says who people and things are. */
export interface RunTold extends Called {
  readonly id: string;
  readonly shift: ShiftPage;
  /** Every entry that is known, in their order, with its text letter for letter. */
  readonly told: readonly { readonly entry: Entry; readonly text: string }[];
  readonly findings: readonly Finding[];
  /** What a joint is to be tightened to. */
  readonly torque: (joint: string) => BriefTorque | undefined;
  /** What of the ledger is not as it was written. */
  readonly damages: readonly string[];
}

const share = (title: string, part = 1): Column => ({ title, width: { share: part } });
const fixed = (title: string, mm: number): Column => ({ title, width: { mm } });

export function runSheets(
  run: RunTold,
  words: Words,
  figures: Figures,
): { readonly shift: Sheet; readonly record: Sheet } {
  return { shift: shiftSheet(run, words, figures), record: recordSheet(run, words, figures) };
}

const damaged = ({ damages }: RunTold, { run }: Words): readonly Block[] =>
  damages.length === 0 ? [] : [{ kind: "text", text: `${run.damaged} ${damages.join(". ")}.` }];

function shiftSheet(run: RunTold, words: Words, figures: Figures): Sheet {
  const { run: say, pack, cards, chart } = words;
  const { shift } = run;
  const part = (text: string, columns: readonly Column[], rows: readonly (readonly Cell[])[]): readonly Block[] => [
    { kind: "heading", level: 3, text, ...(rows.length === 0 ? { aside: say.nothing } : {}) },
    ...(rows.length === 0 ? [] : [{ kind: "table", columns, rows } as const]),
  ];
  const joint = [share(chart.connection, 3), share(say.place), share(say.by), fixed(say.when, 34)];
  const jointRow = ({ label, where, by, at }: ShiftPage["snug"][number]): readonly Cell[] => [
    label,
    where?.label ?? "",
    by.join(", "),
    figures.moment(at),
  ];
  return {
    kind: "shift",
    title: `${say.shift}: ${run.id}`,
    blocks: [
      {
        kind: "text",
        text: `${say.asOf(figures.moment(shift.at))} ${say.progress(shift.percentApart, shift.percentBack)}`,
      },
      ...damaged(run, words),
      ...(shift.handing === undefined
        ? []
        : [
            {
              kind: "text",
              text: say.handing(shift.handing.from, shift.handing.to, figures.moment(shift.handing.at)),
            } as const,
          ]),
      ...part(say.snug, joint, shift.snug.map(jointRow)),
      ...part(say.half, joint, shift.half.map(jointRow)),
      ...part(
        say.toVerify,
        [share(chart.connection, 3), share(say.place), share(say.who, 2)],
        shift.toVerify.map(({ label, where, who, hidden }) => [
          hidden ? `${label} (${cards.hidden})` : label,
          where?.label ?? "",
          who.join(", "),
        ]),
      ),
      ...part(
        say.off,
        [share(say.what), share(say.who)],
        shift.off.map(({ energy, key }) => [{ strong: energy }, key]),
      ),
      ...part(
        say.on,
        [share(say.what)],
        shift.on.map(({ label, drained }) => [
          [label, ...Object.entries(drained).map(([fluid, amount]) => `${fluid} ${figures.asRead(amount)}`)].join(", "),
        ]),
      ),
      ...part(
        say.lying,
        [share(say.what), share(say.place, 2)],
        shift.lying.map(({ label, where }) => [label, where]),
      ),
      ...part(
        say.things,
        [fixed(say.count, 16), share(say.what, 2), share(say.place)],
        shift.things.map(({ item, count, at }) => [`${count} ×`, item, at === undefined ? "" : run.label(at)]),
      ),
      ...part(
        say.tools,
        [fixed(say.count, 16), share(say.what, 2), share(say.by)],
        shift.tools.map(({ tool, count, by }) => [`${count} ×`, tool, by.join(", ")]),
      ),
      ...part(
        say.claims,
        [share(say.place), share(say.who, 2)],
        shift.claims.map(({ place, people }) => [place, people.join(", ")]),
      ),
      ...part(say.findings, findingColumns(words), shift.findings.map(findingRow(run, words, figures))),
      ...shift.contradictions.map(
        (one): Block => ({
          kind: "text",
          text: `${say.contradictions}: ${contradictionSentence(one, run.told, run, words)}`,
        }),
      ),
      ...part(
        say.next,
        [fixed(say.step, 14), share(say.what, 3), fixed("min", 14)],
        shift.next
          .slice(0, 12)
          .map(({ number, action, label, minutes, verify }) => [
            String(number),
            action === "verify"
              ? `${say.look}: ${verify.map(run.label).join(", ")}`
              : `${cards.actions[action as keyof typeof cards.actions] ?? ""}${label}`,
            minutes === 0 ? "–" : figures.number(minutes),
          ]),
      ),
      { kind: "signatures", places: say.over, heads: [pack.sign.name, pack.sign.signature, pack.sign.when] },
    ],
  };
}

const findingColumns = ({ run: say }: Words): readonly Column[] => [
  fixed(say.when, 34),
  share(say.by),
  share(say.what, 3),
  share(say.state),
];

const findingRow =
  (run: RunTold, { ledger }: Words, figures: Figures) =>
  ({ author, at, found, state }: Finding): readonly Cell[] => [
    figures.moment(at),
    run.person(author),
    [found.about === undefined ? "" : run.label(found.about), ledger.value(found.what), found.text]
      .filter((one) => one !== "")
      .join(": "),
    ledger.value(state),
  ];

/** Target, tolerance and what was read; what lies outside says so. */
function readAgainst(
  read: string,
  wanted: BriefTorque | undefined,
  { run: say }: Words,
  figures: Figures,
): readonly Cell[] {
  if (wanted === undefined) return ["–", "–", figures.asRead(read)];
  const limits = torqueLimits(wanted.aim, wanted.limits);
  const reading = readQuantity(read, "torque");
  const shown = figures.asRead(read);
  const fits = "value" in reading && isWithin(reading.value.nominal, limits);
  return [
    `${figures.places(wanted.aim, 3)} N·m`,
    `${figures.limits(limits.low, limits.high)}${wanted.limits === undefined ? "*" : ""}`,
    fits ? shown : { strong: `${shown} ${say.outside}` },
  ];
}

function recordSheet(run: RunTold, words: Words, figures: Figures): Sheet {
  const { run: say, torque } = words;
  const torques = run.told.filter(({ entry }) => entry.body.kind === "torqued" || entry.body.kind === "torque value");
  const numbers = new Map(run.told.map(({ entry }, n) => [entry.id, n + 1]));
  const called: Recorded = { label: run.label, person: run.person, entry: (id) => numbers.get(id) };
  const lasts = new Map(run.told.map((one) => [one.entry.device, one]));
  return {
    kind: "record",
    title: `${say.record}: ${run.id}`,
    blocks: [
      ...damaged(run, words),
      { kind: "text", text: say.entries(run.told.length) },
      { kind: "heading", level: 2, text: say.torques },
      ...(torques.some(({ entry: { body } }) => "at" in body && run.torque(body.at ?? "")?.limits === undefined)
        ? [{ kind: "text", small: true, text: `* ${torque.practice(figures.number(100 * TORQUE_SHARE, 0))}` } as const]
        : []),
      torques.length === 0
        ? { kind: "text", text: say.noTorques }
        : {
            kind: "table",
            columns: [
              share(say.joint, 3),
              fixed(say.aim, 17),
              fixed(torque.band, 22),
              fixed(say.read, 22),
              share(torque.tool, 1.8),
              share(say.by),
              fixed(say.when, 34),
            ],
            rows: torques.flatMap(({ entry: { body, author, at } }) =>
              body.kind === "torqued" || body.kind === "torque value"
                ? [
                    [
                      run.label(body.at),
                      ...readAgainst(body.torque, run.torque(body.at), words, figures),
                      body.tool,
                      run.person(author),
                      figures.moment(at),
                    ],
                  ]
                : [],
            ),
          },
      { kind: "heading", level: 2, text: say.allFindings },
      run.findings.length === 0
        ? { kind: "text", text: say.nothing }
        : { kind: "table", columns: findingColumns(words), rows: run.findings.map(findingRow(run, words, figures)) },
      { kind: "heading", level: 2, text: say.done },
      {
        kind: "table",
        columns: [fixed(say.number, 9), fixed(say.when, 34), share(say.who), share(say.what, 5)],
        rows: run.told.map(({ entry }, n) => [
          String(n + 1),
          figures.moment(entry.at),
          run.person(entry.author),
          entrySentence(entry, called, words, figures),
        ]),
      },
      { kind: "heading", level: 2, text: say.hash },
      { kind: "text", text: say.hashHow },
      ...[...lasts.values()].flatMap(({ entry, text }): readonly Block[] => [
        {
          kind: "qr",
          text: hashOf(text),
          name: `${say.device} ${entry.device.slice(0, 8)}, ${entry.number}: ${hashOf(text)}`,
        },
      ]),
    ],
  };
}
