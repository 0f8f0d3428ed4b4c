// Owns invented vehicle files as text, by size: believable machines, sound and without a doubt, and the same spoilt.

/** Connections of one assembly; its other lines come on top. */
const EACH = 8;

/** A file of about `connections` connections: assemblies of eight, each a part on two mounts with its lines and covers. */
export function writeFile(connections: number): string {
  const count = Math.max(1, Math.round(connections / EACH));
  const positions: string[] = [];
  const parts: string[] = ["  frame: { label: Frame, fixed: true }"];
  const ties: string[] = [
    "  battery-ground:",
    "    joins: [frame, unit-0]",
    "    kind: cable",
    "    live: 24 V",
    "    isolates: 24 V",
    "    release: { at: left, time: 4 min }",
  ];
  const tasks: string[] = [
    "  raise: { label: Raise on stands, time: 12 min, people: 2, undo: { time: 8 min, people: 2 } }",
  ];
  const jobs: string[] = [];
  for (let i = 0; i < count; i++) {
    const x = (i % 40) / 10;
    const side = i % 2 === 0 ? "left" : "right";
    parts.push(
      `  unit-${i}: { label: Unit number ${i}, mass: ${30 + (i % 50)} kg ± 5 %, centre: [${x} m, 0.02 m, 0.78 m] }`,
      `  cover-${i}: { mass: 1.5 kg }`,
    );
    ties.push(
      ...["front", "rear"].flatMap((end) => [
        `  mount-${end}-${i}:`,
        `    label: Mount at the ${end} of unit ${i}`,
        `    joins: [unit-${i}, frame]`,
        "    kind: mount",
        `    at: [${x} m, ${end === "front" ? 0.3 : -0.3} m, 0.6 m]`,
        "    hardware: [{ item: bolt M12×60, class: 10.9, count: 2, reuse: true }, { item: washer 12, count: 2 }]",
        `    release: { at: ${end === "front" ? side : "under"}, time: 8 min, needs: [sling-${i}], tools: [socket 19] }`,
        "    refit: { time: 9 min, torque: 90 N·m, pattern: in two stages }",
      ]),
      `  return-hose-${i}:`,
      `    label: Return hose of unit ${i}`,
      `    joins: [unit-${i}, ${i === 0 ? "frame" : `unit-${i - 1}`}]`,
      "    kind: hose",
      `    at: [${x} m, -0.2 m, 0.81 m]`,
      "    holds: { fluid: coolant, amount: 0.4 L }",
      "    plug: [plug 32 mm, cap 32 mm]",
      "    release:                        # one or more ways; the planner chooses",
      `      - { at: ${side}, time: 3 min, needs: [drain-${i % 10}, cover-screws-${i}], tools: [hose-clamp pliers] }`,
      `      - { at: under, time: 7 min, needs: [drain-${i % 10}] }`,
      "    refit: { time: 4 min, new: [clamp 32-50], check: no seep at pressure, then: [bleed] }",
      `  pressure-line-${i}:`,
      `    label: Pressure line of unit ${i}`,
      `    joins: [unit-${i}, frame]`,
      "    kind: line",
      "    holds: { fluid: hydraulic oil }",
      "    catch: 0.2 L hydraulic oil",
      "    plug: [{ item: cap M22, count: 2 }]",
      `    release: { at: ${side}, time: 5 min, needs: [any: [cover-screws-${i}, raise]] }`,
      "    refit: { torque: 35 lbf·ft, new: [seal 22] }",
      `  harness-${i}: { label: Harness of unit ${i}, joins: [unit-${i}, frame], kind: wire, live: 24 V, release: { at: ${side}, time: 2 min, needs: [battery-ground] } }`,
      `  strap-${i}: { joins: [unit-${i}, frame], kind: clip, slack: 40 mm, release: { at: ${side}, time: 1 min } }`,
      `  cover-screws-${i}: { joins: [cover-${i}, unit-${i}], kind: cover fixing, release: { at: ${side}, time: 6 min } }`,
      `  cover-clip-${i}: { joins: [cover-${i}, frame], kind: clip, release: { at: ${side}, time: 1 min, needs: [cover-screws-${i}] } }`,
    );
    tasks.push(`  sling-${i}: { at: ${side}, time: 8 min, people: 2, skill: rigger, supports: [unit-${i}] }`);
    if (i % 10 === 0)
      jobs.push(
        `  renew-${i}: { label: Renew unit ${i}, needs: [out: unit-${i}], work: [{ at: bench, time: 25 min }] }`,
      );
  }
  for (let i = 0; i < Math.min(10, count); i++)
    tasks.push(
      `  drain-${i}: { at: under, time: 10 min, wait: 15 min, drains: [coolant], back: { label: Fill circuit ${i}, time: 15 min } }`,
    );
  tasks.push("  bleed: { time: 10 min, phase: back }");
  positions.push(
    "  left: { label: Left side, people: 2, at: [1.1 m, 0.9 m, 0.9 m] }",
    "  right: { label: Right side, people: 2, at: [1.1 m, -0.9 m, 0.9 m] }",
    "  under: { label: Underneath, people: 1, needs: [raise], at: [1.4 m, 0 m, 0.2 m] }",
    "  bench: { label: At the stand, people: 3 }",
  );
  return [
    "# Invented, for measuring.",
    "format: unmoor/1",
    "vehicle: { name: Measured, note: invented }",
    "first: [battery-ground]",
    "positions:",
    ...positions,
    "parts:",
    ...parts,
    "connections:",
    ...ties,
    "tasks:",
    ...tasks,
    "jobs:",
    ...jobs,
    "",
  ].join("\n");
}

/** Faults of every sort, in every assembly: a misspelt id, a bare number, a wrong unit, an unknown key, too many people. */
export const spoilFile = (text: string): string =>
  text
    .replaceAll(/needs: \[sling-/g, "needs: [slign-")
    .replaceAll(/kind: hose\n/g, "kind: hoes\n")
    .replaceAll("torque: 35 lbf·ft", "torque: 35 lbf")
    .replaceAll("slack: 40 mm", "slack: 40")
    .replaceAll("catch: 0.2 L", "cetch: 0.2 L")
    .replaceAll(/(sling-\d+: \{ at: \w+, time: 8 min), people: 2/g, "$1, people: 5");

/** The same sound, with a doubt in every assembly: no drain, no plug, no torque, a circle of needs. */
export const doubtFile = (text: string): string =>
  text
    .replaceAll("    catch: 0.2 L hydraulic oil\n", "")
    .replaceAll("    plug: [{ item: cap M22, count: 2 }]\n", "")
    .replaceAll("torque: 90 N·m, ", "")
    .replaceAll(/(cover-screws-(\d+): .*time: 6 min)/g, "$1, needs: [cover-clip-$2]");
