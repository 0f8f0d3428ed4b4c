// Owns the house rules that no compiler knows: which room may import which, what a pure room may touch, how a module begins.
// Each breach is given with the reason for the rule, not only its name.

export interface Source {
  /** Path from the root of the repository, with `/`. */
  readonly path: string;
  readonly text: string;
}

export interface Breach {
  readonly path: string;
  /** 1 for the first line. */
  readonly line: number;
  readonly what: string;
  readonly why: string;
}

const COMPUTING = ["release", "crew", "rigging", "fastening", "times"];
const MODEL = ["quantity", "vehicle"];
const UP_TO_PLAN = [...MODEL, ...COMPUTING, "plan"];
const PURE = [...UP_TO_PLAN, "ledger", "tag"];
/** Rooms that touch neither Node nor the browser, chance nor the clock. */
const BARE = [...PURE, "paper", "draft"];

interface Room {
  readonly may: readonly string[];
  /** Rooms whose types alone may be imported. */
  readonly types?: readonly string[];
  readonly why: string;
}

const PEERS = "the five computations never import one another: each must be usable, and wrong, by itself";

/** Which room may import which, and why no more. A room that is not here may not exist. */
export const ROOMS: Readonly<Record<string, Room>> = {
  quantity: { may: [], why: "quantity stands at the bottom: what it imported could not use it" },
  vehicle: { may: ["quantity"], why: "the vehicle file knows units and nothing of what is computed from it" },
  ...Object.fromEntries(COMPUTING.map((room) => [room, { may: MODEL, why: PEERS }])),
  plan: { may: [...MODEL, ...COMPUTING], why: "plan joins the computations; who uses a plan stands above it" },
  ledger: { may: UP_TO_PLAN, why: "the ledger records a plan being carried out, on a tablet with no network" },
  tag: { may: [], why: "a tag is read where there is a camera and nothing else" },
  paper: { may: PURE, why: "what stands on paper comes through the doors of the pure rooms: no store, no server" },
  press: { may: ["paper"], why: "the press sets what it is given and knows nothing of vehicles or jobs" },
  draft: { may: PURE, why: "a draft is made from text alone: no store, no server" },
  store: { may: [], types: ["ledger", "vehicle"], why: "a store keeps what it is given and computes nothing" },
  server: {
    may: [...PURE, "paper", "press", "draft", "store"],
    why: "the server uses any room but the screens, web and cli",
  },
  cli: { may: [...PURE, "paper", "press", "draft", "store", "server"], why: "the command line uses any room but web" },
  web: {
    may: [...PURE, "draft"],
    types: ["server", "store"],
    why: "the tablet computes by itself; server and store reach it as types only",
  },
};

const PURE_WHY = "a pure room runs in the browser of the tablet and in Node alike, so it may touch neither";
const ARGUMENT_WHY = "chance and the clock are arguments of a pure room, so that the same question has the same answer";

const NODE_MODULES =
  /^(node:|(assert|buffer|child_process|crypto|events|fs|http|https|net|os|path|process|stream|url|util|worker_threads|zlib)(\/|$))/;
const IMPORT =
  /(?:^|\n)\s*(?:import|export)\s+(type\s)?[^;"'`]*?from\s*["']([^"']+)["']|(?:^|\n)\s*import\s*["']([^"']+)["']|\bimport\(\s*["']([^"']+)["']\s*\)/g;
const CHANCE_OR_CLOCK = /\bMath\.random\b|\bDate\.now\b|\bnew Date\(\s*\)|\bperformance\.now\b/g;
const NAMED_AFTER_NOTHING = /(^|\/)(utils?|helpers?|commons?|misc|types|shared|lib)(\/|\.ts$)/;

/** Every breach of the house rules in these sources, in their order. */
export function findBreaches(sources: readonly Source[]): Breach[] {
  return sources.flatMap((source) => [
    ...nameBreaches(source),
    ...opening(source),
    ...imports(source),
    ...chance(source),
  ]);
}

/** A breach as a sentence: where, what, why. */
export function sayBreach(breach: Breach): string {
  return `${breach.path}:${breach.line}  ${breach.what}: ${breach.why}.`;
}

function nameBreaches({ path }: Source): Breach[] {
  if (!NAMED_AFTER_NOTHING.test(path)) return [];
  return [
    {
      path,
      line: 1,
      what: "a name that says nothing",
      why: "a room or module is named with a word of the trade or of its concept",
    },
  ];
}

function opening({ path, text }: Source): Breach[] {
  if (!path.startsWith("src/") || isTest(path)) return [];
  const first = text.replace(/^#!.*\n/, "").split("\n", 1)[0] ?? "";
  if (/^\/\/ .*\bowns?\b/i.test(first) || (path.endsWith("/index.ts") && /^\/\/ .*\bdoor\b/i.test(first))) return [];
  return [
    {
      path,
      line: 1,
      what: `opens with "${first}"`,
      why: "the first line of a module says what it owns, of an index.ts that it is the door",
    },
  ];
}

function imports(source: Source): Breach[] {
  const { path, text } = source;
  const room = roomOf(path);
  if (room === undefined) return [];
  const rule = ROOMS[room];
  if (rule === undefined) {
    return [
      {
        path,
        line: 1,
        what: `${room} is no room of the house`,
        why: "add it to ROOMS with what it may import and why",
      },
    ];
  }
  const breaches: Breach[] = [];
  for (const match of text.matchAll(IMPORT)) {
    const typeOnly = match[1] !== undefined;
    const target = match[2] ?? match[3] ?? match[4] ?? "";
    const report = (what: string, why: string) => breaches.push({ path, line: lineOf(text, match), what, why });
    if (BARE.includes(room) && !isTest(path) && NODE_MODULES.test(target)) report(`imports ${target}`, PURE_WHY);
    if (!target.startsWith(".")) continue;
    const resolved = resolve(path, target);
    const other = roomOf(resolved);
    if (other === room) continue;
    if (other === undefined) {
      const data = resolved.endsWith(".json");
      if (!(data || isTest(path)))
        report(`imports ${resolved}`, "a room imports rooms: what ships may not lean on tests, benches or the build");
      continue;
    }
    if (!(rule.may.includes(other) || (typeOnly && rule.types?.includes(other))))
      report(`${room} imports ${other}`, rule.why);
    if (resolved !== `src/${other}/index.ts`) {
      report(
        `reaches past the door of ${other} to ${resolved}`,
        `what others may use is in src/${other}/index.ts, so the rest can change`,
      );
    }
  }
  return breaches;
}

function chance({ path, text }: Source): Breach[] {
  const room = roomOf(path);
  if (room === undefined || !BARE.includes(room) || isTest(path)) return [];
  return [...text.matchAll(CHANCE_OR_CLOCK)].map((match) => ({
    path,
    line: lineOf(text, match),
    what: `uses ${match[0]}`,
    why: ARGUMENT_WHY,
  }));
}

function roomOf(path: string): string | undefined {
  return /^src\/([^/]+)\//.exec(path)?.[1];
}

function isTest(path: string): boolean {
  return path.endsWith(".test.ts");
}

function resolve(from: string, target: string): string {
  const parts = from.split("/").slice(0, -1);
  for (const part of target.split("/")) {
    if (part === "..") parts.pop();
    else if (part !== ".") parts.push(part);
  }
  return parts.join("/");
}

function lineOf(text: string, match: RegExpMatchArray): number {
  const start = (match.index ?? 0) + (match[0].startsWith("\n") ? 1 : 0);
  return text.slice(0, start).split("\n").length;
}
