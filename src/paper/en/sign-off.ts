// Owns the words of the sign-off page, in English.

export const signOff = {
  title: "Sign-off",
  intro:
    "A gate opens when everything under it is ticked and its person has signed. Nothing is signed for somebody else.",
  gates: { isolation: "Isolation", lift: "Lift gate", "start-up": "Start-up gate", "hand-over": "Hand-over gate" },
  needs: {
    isolation: (energies: string) => [
      `shut off, locked, and the key kept by a named person: ${energies}`,
      "tried: it does not start; measured where a person is authorised to",
    ],
    lift: (ties: number, positions: string, findings: string) => [
      `all ${ties} ties loose, each seen by a second person (tie chart)`,
      findings,
      "rigging approved by the competent person (rigging sheet)",
      `positions empty: ${positions}`,
      "trial lift: reading within its band (rigging sheet)",
    ],
    "start-up": (refits: number, torques: number, fluids: string, last: string) => [
      `all ${refits} released connections made again (cards)`,
      `all ${torques} torques recorded and inside tolerance (torque sheet)`,
      `fluids filled: ${fluids}`,
      "every bag counted in equals counted out; nothing put in for the job is still in (kit list)",
      "every last look made by a second person (cards)",
      `last of all: ${last}`,
    ],
    "hand-over": (tests: string) => [
      `adjustments and tests passed: ${tests}`,
      "every finding closed, or handed over in writing below",
      "tools and people clear of the vehicle",
    ],
  },
  noFindings: "no open finding touches it",
  nothing: "nothing",
  findings: "Findings handed over in writing",
  finding: "Finding",
  where: "Where",
  what: "What is left to do, and by whom",
  signs: "signs",
};
