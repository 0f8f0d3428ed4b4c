// Owns the words of the first page and of signing in, in English.

export const start = {
  title: "Nothing still connected when it moves. Nothing left undone when it runs.",
  lead: "Unmoor plans the removal of a major assembly and its return: what must be released, proved; who does what, when; how it hangs; and the way back.",
  picture: "An assembly in a vehicle, held by twelve lines that part one after the other",
  demo: "Look around",
  demoLead:
    "Invented machines, worked out here in your browser. Change anything: it stays on this device, and can be set back.",
  demos: {
    "plover-28": { name: "Plover 28", what: "municipal carrier; engine, clutch and gearbox come out upwards as one" },
    "marten-t1": { name: "Marten T1", what: "electric baggage tug; the drive module is lowered" },
    "bench-pump": { name: "Bench pump", what: "five parts on a bench: small enough to check by hand" },
  },
  reset: "Set the demo back to how it came",
  shop: "This shop's vehicles",
  noVehicles: "None yet. Open a file below, or one of the invented ones, and keep it here.",
  signInLead: "Vehicles, orders and runs of this shop are for its people.",
  setUpLead: "Nobody can sign in yet: whoever keeps this server sets it up once.",
  own: "A file of your own",
  ownLead:
    "Drop a vehicle file anywhere on the page, with the files it includes. It is read here and goes nowhere until you keep it.",
  open: "Open a file …",
  draft: "Make one of a talk-through …",
  remove: (id: string) => `Remove ${id} from this device`,
  dropHere: "Let go: the file is opened here",
  noFile: "No file came",
  noFileMend: "Drop a file, not a folder or a text.",
  tooLarge: (name: string, mb: number, limit: number) =>
    `${name} has ${mb} MB, and a vehicle file ${limit} MB at the most`,
  tooLargeMend:
    "Is it the right one? A vehicle of 3,000 connections has about 1 MB. Put what several vehicles share into files of their own, under include.",
  noText: (name: string) => `${name} is no text`,
  noTextMend:
    "A vehicle file is a text in YAML, named like carrier.vehicle.yaml. A picture goes to a finding of a run, not here.",
  entries: (n: number) => (n === 1 ? "one entry" : `${n} entries`),
  setUp: "Set up this shop",
  setUpHow: "The code stands on the console where the server was started. You become the first foreman.",
  signOut: "Sign out",
  withoutSigningIn: "Look around without signing in",
  fields: {
    code: "Set-up code",
    person: "Short name to sign in with",
    name: "Your name",
    site: "What the shop is called",
    password: "Password",
    next: "A password of your own, from now on",
  },
} as const;
