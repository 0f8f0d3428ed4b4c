// Owns the sign-off page: the gates of the job, what each needs with the counts of this plan, and who signs.

import type { KitDocument, Plan } from "../plan/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import type { Words } from "./said.ts";
import type { Block, Sheet } from "./sheet.ts";
import { stepNames } from "./step-name.ts";
import { released } from "./tag-faces.ts";
import { cutOf } from "./tie-chart.ts";
import { torqued } from "./torque-sheet.ts";

export function signOffSheet(vehicle: Vehicle, plan: Plan, kit: KitDocument, words: Words): Sheet {
  const say = words.signOff;
  const steps = [...plan.out, ...plan.work, ...plan.back].flatMap((visit) => visit.steps);
  const nameOf = stepNames(vehicle, words);
  const energies = [...vehicle.connections, ...vehicle.tasks].flatMap(({ id, isolates }) =>
    steps.some((step) => step.id === id) ? isolates : [],
  );
  const gate = (title: string, needs: readonly string[]): readonly Block[] => [
    { kind: "heading", level: 2, text: title },
    {
      kind: "table",
      columns: [
        { title: "", width: { mm: 9 } },
        { title: "", width: { share: 1 } },
      ],
      rows: needs.map((text) => [{ box: "tick" }, text]),
    },
    {
      kind: "signatures",
      places: [say.signs],
      heads: [words.pack.sign.name, words.pack.sign.signature, words.pack.sign.when],
    },
  ];
  const lifts = plan.lifts.map(({ task, label, parts }) => {
    const positions = new Map(vehicle.positions.map((one) => [one.id, one.label]));
    const empties = vehicle.tasks.find(({ id }) => id === task)?.empties ?? [];
    return gate(
      `${say.gates.lift}: ${label}`,
      say.needs.lift(
        cutOf(
          vehicle,
          parts.map(({ id }) => id),
        ).length,
        empties.map((id) => positions.get(id) ?? id),
      ),
    );
  });
  const refits = new Set(released(plan)).size;
  const tests = steps.flatMap(({ action, label }) => (action === "perform" ? [label] : []));
  const isolating = new Set(
    [...vehicle.connections, ...vehicle.tasks].flatMap(({ id, isolates }) => (isolates.length === 0 ? [] : [id])),
  );
  const last = plan.back.flatMap((visit) =>
    visit.steps.filter(({ id, action }) => isolating.has(id) && action !== "verify").map(nameOf),
  );
  return {
    kind: "sign-off",
    title: say.title,
    blocks: [
      { kind: "text", text: say.intro },
      ...(energies.length === 0
        ? []
        : gate(say.gates.isolation, say.needs.isolation([...new Set(energies)].join(", ")))),
      ...lifts.flat(),
      ...gate(
        say.gates["start-up"],
        say.needs["start-up"]({
          refits,
          torques: torqued(plan).length,
          fluids: kit.fluids.map(({ fluid }) => fluid),
          bags: kit.bags.length + kit.inAndOut.length > 0,
          looks: steps.some(({ action }) => action === "verify"),
          last,
        }),
      ),
      ...gate(say.gates["hand-over"], say.needs["hand-over"]([...new Set(tests)])),
      { kind: "heading", level: 3, text: say.findings },
      {
        kind: "table",
        columns: [
          { title: say.finding, width: { share: 2 } },
          { title: say.where, width: { share: 1 } },
          { title: say.what, width: { share: 2 } },
        ],
        // Two: with a third one the sheet of a job with every gate goes overleaf in German, for an empty row.
        rows: Array.from({ length: 2 }, () => [{ box: "write" }, { box: "write" }, { box: "write" }]),
      },
    ],
  };
}
