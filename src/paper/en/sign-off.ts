// Owns the words of the sign-off page, in English.

/** What a job has that the start-up gate asks for. */
export interface StartUp {
  readonly refits: number;
  readonly torques: number;
  readonly fluids: readonly string[];
  readonly bags: boolean;
  readonly looks: boolean;
  /** Steps that put an energy back on. */
  readonly last: readonly string[];
}

export const signOff = {
  title: "Sign-off",
  intro:
    "A gate opens when everything under it is ticked and the person responsible has signed. Nobody signs for somebody else.",
  gates: { isolation: "Isolation", lift: "Lift gate", "start-up": "Start-up gate", "hand-over": "Hand-over gate" },
  needs: {
    isolation: (energies: string) => [
      `shut off, locked, and the key kept by a named person: ${energies}`,
      "tried: it does not start; where the voltage is dangerous, measured dead by an authorised person",
    ],
    lift: (ties: number, positions: readonly string[]) => [
      `all ${ties} ties loose, each seen by a second person (tie chart)`,
      "no open finding touches the lift",
      "rigging approved by the competent person (rigging sheet)",
      ...(positions.length === 0 ? [] : [`nobody at: ${positions.join("; ")}`]),
      "trial lift: reading within its band (rigging sheet)",
    ],
    /** Only what this job has. */
    "start-up": ({ refits, torques, fluids, bags, looks, last }: StartUp): readonly string[] => [
      ...(refits === 0 ? [] : [`all ${refits} released connections made again (cards)`]),
      ...(torques === 0 ? [] : [`all ${torques} torques recorded and inside tolerance (torque sheet)`]),
      ...(fluids.length === 0 ? [] : [`fluids filled: ${fluids.join(", ")}`]),
      ...(bags ? ["every bag counted in equals counted out; nothing put in for the job is still in (kit list)"] : []),
      ...(looks ? ["every last look made by a second person (cards)"] : []),
      ...(last.length === 0 ? [] : [`switched on again last, in this order: ${last.join("; ")}`]),
      "tools and people clear of what starts or moves; everyone told",
    ],
    "hand-over": (tests: readonly string[]): readonly string[] => [
      ...(tests.length === 0 ? [] : [`adjustments and tests passed: ${tests.join("; ")}`]),
      "every finding closed, or handed over in writing below",
      "tools and people clear of the vehicle",
    ],
  },
  findings: "Findings handed over in writing",
  finding: "Finding",
  where: "Where",
  what: "What is left to do, and by whom",
  signs: "The person responsible",
};
