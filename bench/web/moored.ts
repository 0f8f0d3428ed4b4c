// Owns an invented vehicle whose one assembly is tied by so many connections: what the chart is measured with.

const KINDS = ["hose", "line", "cable", "wire", "clip", "bolted joint", "linkage", "spring", "flange", "coupling"];
const PLACES = [
  ["left", "Left side", 1.2],
  ["right", "Right side", -1.2],
  ["front", "In front", 0],
  ["under", "Underneath", 0],
] as const;

/** A file with so many connections between a unit and its frame, at four positions, and the job to lift it out. */
export function writeMoored(connections: number): string {
  const ties = Array.from({ length: connections }, (_, n) => {
    const [place] = PLACES[n % PLACES.length] ?? PLACES[0];
    const x = ((n * 37) % 100) / 100 - 0.5;
    const y = ((n * 61) % 80) / 100 - 0.4;
    return `  tie-${n}: { label: "Connection number ${n} of the unit", joins: [unit, frame], kind: ${KINDS[n % KINDS.length]}, carrying: false, at: [${x} m, ${y} m, 0.8 m], release: { at: ${place}, time: 2 min }, refit: { time: 2 min } }`;
  });
  return `format: unmoor/1
vehicle: { name: Moored ${connections}, note: invented for measuring }
positions:
${PLACES.map(([id, label, y], n) => `  ${id}: { label: ${label}, people: 3, at: [${1 - n / 2} m, ${y} m, 0.9 m] }`).join("\n")}
parts:
  frame: { label: Frame, fixed: true }
  unit: { label: Unit, mass: 200 kg ± 3 %, centre: [0 m, 0 m, 0.9 m], outline: { from: [-0.5 m, -0.4 m, 0.5 m], to: [0.5 m, 0.4 m, 1.2 m] } }
connections:
  mount: { label: Mount below, joins: [unit, frame], kind: mount, rests: true, at: [0 m, 0 m, 0.5 m], release: { at: left, time: 8 min, needs: [sling] }, refit: { time: 8 min } }
${ties.join("\n")}
tasks:
  sling: { label: Take the weight on the hoist, at: left, time: 8 min, supports: [unit] }
  lift-out: { label: Lift it out, lifts: [unit], needs: [sling], time: 10 min, reach: 1 m }
jobs:
  renew: { label: Renew the unit, needs: [lift-out], work: [{ label: Fit the new one, at: left, time: 20 min }] }
lifting:
  eyes: { eye: { on: unit, at: [0 m, 0 m, 1.2 m], limit: 750 kg } }
  hoists: { crane: { label: Crane, reach: [[0.5 m, 1000 kg], [2 m, 900 kg]] } }
`;
}
