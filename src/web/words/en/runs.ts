// Owns the words of runs and of giving an order, in English.

export const runs = {
  title: "Orders and runs",
  none: "No order is taken yet. Open a vehicle of the shop, plan an order and give it.",
  state: { ordered: "not begun", running: "under way", closed: "closed" },
  apart: (n: number, of: number) => `${n} of ${of} undone,`,
  verified: (n: number) => `${n} verified loose`,
  back: (n: number) => `${n} made again`,
  closed: "Closed",
  next: "Next",
  found: (n: number) => (n === 1 ? "One finding open" : `${n} findings open`),
  asItStands: "As it stands now",
  atPlan: "At a step of the plan, not as it stands",
  give: "Give this order",
  giveHow: "It is planned once more by the server, kept with this version of the vehicle, and its run begins.",
  onlyKept: "Keep the vehicle's file at the shop first: an order is given on a version that is kept.",
  onlySignedIn: "Sign in as a foreman to give an order.",
  name: "Called",
  machine: "Serial number of the machine, if it has one",
  who: "Who works on it, verifies, approves",
  two: "Name two at least: the second person verifies.",
  alone:
    "Only one person belongs to this site. Whoever keeps the server adds the others: unmoor people SERVER NAME --role mechanic,verifier",
  giving: "The server plans it …",
  toRun: "To the run",
  roles: (roles: readonly string[]) => roles.join(", "),
} as const;
