// Owns what a question is answered with: the vehicle read, the order taken at its word, the computation of its kind, and one document of what came of it.

import {
  type Crew,
  type CrewAnswered,
  crewOf,
  crewOfShop,
  describeCrewLack,
  describeRelease,
  fewestCrew,
  type Order,
  type Overseer,
  type Question,
  readChanges,
  readCrew,
  solveCrew,
  solveRelease,
  solveTimes,
  translate,
} from "../../plan/index.ts";
import type { ModelFile } from "../../store/index.ts";
import { fromNumber, fromThree, type Lognormal } from "../../times/index.ts";
import { type Fault, indexWords, type Reading, readVehicleWhole, sentence, type Vehicle } from "../../vehicle/index.ts";
import type { Body, Kind, Wanted } from "./body.ts";

/** What is wrong with what was asked about a file that is sound. */
export interface AskingFault {
  /** The place in the question's body: `order.jobs[0]`. */
  readonly at: string;
  readonly what: string;
  readonly mend: string;
}

/**
 * `kind` says what the document is: that of the question's kind, as the command line writes it with --json; "release" where there is no plan, and why;
 * "unfound" where a plan was searched for so long and none was found, which is no answer that is kept: asked again, it is searched for again;
 * "lack" where this crew cannot do it, or nothing was found in the time; "faults" of the vehicle file, the crew file or the file of changes, each with
 * its place and mend; "refused", what is wrong with the question's body.
 */
export type Answer =
  | { readonly kind: Kind | "lack"; readonly document: unknown }
  | { readonly kind: "unfound"; readonly document: { readonly seconds: number } }
  | { readonly kind: "faults"; readonly document: { readonly faults: readonly Said[] } }
  | { readonly kind: "refused"; readonly document: { readonly faults: readonly AskingFault[] } };

type Said = Fault & { readonly sentence: string };

const say = (faults: readonly Fault[]): readonly Said[] =>
  faults.map((fault) => ({ ...fault, sentence: sentence(fault) }));
const faultsIn = (faults: readonly Fault[]): Answer => ({ kind: "faults", document: { faults: say(faults) } });
const refuse = (...faults: readonly AskingFault[]): Answer => ({ kind: "refused", document: { faults } });

/** A vehicle without faults. */
interface Read {
  readonly file: string;
  readonly vehicle: Vehicle;
  readonly reading: Reading;
}

const milliseconds = ({ seconds }: { readonly seconds: number }): number => seconds * 1000;

const unknown = (at: string, kind: string, id: string, known: readonly string[]): AskingFault => {
  const near = indexWords(known)(id);
  const mend =
    near === undefined ? (known.length === 0 ? "There is none." : "See the vehicle file.") : `Nearest: ${near}.`;
  return { at, what: `there is no ${kind} called ${id}`, mend };
};

/** People of the shop by their ids, and those that it does not have. */
const shopPeople = ({ shop }: Vehicle, ids: readonly string[], at: string) => {
  const known = shop.people.map(({ id }) => id);
  return {
    people: shop.people.filter(({ id }) => ids.includes(id)),
    faults: ids.flatMap((id, i) =>
      known.includes(id) ? [] : [unknown(`${at}[${i}]`, "person of the shop", id, known)],
    ),
  };
};

type OrderBody = Body<"plan">["order"];

const isIds = (people: OrderBody["people"]): people is string[] =>
  Array.isArray(people) && people.every((one) => typeof one === "string");

/** The order of a body; what the file does not have, `translate` finds. */
const orderOf = ({ vehicle }: Read, { hoist, people, withoutTools, ...given }: OrderBody): Order | Answer => {
  const shop = isIds(people) ? shopPeople(vehicle, people, "order.people") : undefined;
  if (shop !== undefined && shop.faults.length > 0) return refuse(...shop.faults);
  const asked = shop?.people ?? (people as Exclude<typeof people, string[]>);
  return {
    ...given,
    ...(hoist === undefined ? {} : { hoist }),
    ...(withoutTools === undefined ? {} : { withoutTools }),
    ...(asked === undefined
      ? {}
      : {
          people:
            typeof asked === "number"
              ? asked
              : asked.map(({ id, label, skills }) => ({ id, skills, ...(label === undefined ? {} : { label }) })),
        }),
  };
};

/** The order put as a question to the computations. */
const questionOf = (read: Read, body: OrderBody, people?: Order["people"]): Question | Answer => {
  const order = orderOf(read, body);
  if ("kind" in order) return order;
  const question = translate(read.vehicle, people === undefined ? order : { ...order, people });
  return question.faults.length === 0
    ? question
    : refuse(...question.faults.map(({ at, what, mend }) => ({ at: `order.${at}`, what, mend })));
};

type CrewBody = Body<"schedule">["crew"];

const crewOfBody = ({ vehicle }: Read, given: CrewBody): { readonly crew: Crew } | Answer => {
  if (typeof given === "number") return { crew: crewOf(given) };
  if (Array.isArray(given)) {
    const { people, faults } = shopPeople(vehicle, given, "crew");
    return faults.length > 0 ? refuse(...faults) : { crew: crewOfShop(people) };
  }
  const { crew, faults } = readCrew(given.path, given.text);
  if (crew === undefined) return faultsIn(faults);
  if (crew.people.length === 0)
    return refuse({ at: "crew.text", what: "it names nobody", mend: "Write under people who is there." });
  return { crew };
};

/** The question of an order with its crew. */
const crewed = (
  read: Read,
  body: { readonly order: OrderBody; readonly crew: CrewBody },
): { readonly crew: Crew; readonly question: Question } | Answer => {
  const given = crewOfBody(read, body.crew);
  if ("kind" in given) return given;
  const { crew } = given;
  const question = questionOf(read, body.order, crew.able ? crew.people.length : crew.people);
  return "kind" in question ? question : { crew, question };
};

/** What is answered where a crew's question has no answer of its kind. */
const noSchedule = ({ file, reading }: Read, question: Question, answered: CrewAnswered): Answer => {
  const { result, conflict, answer, noWayBack, unknown: strange } = answered;
  if (strange !== undefined && strange.length > 0)
    return refuse(...strange.map(({ id, known }) => unknown("standing", "step", id, known)));
  if (noWayBack === true)
    return refuse({
      at: "order",
      what: "no order of the way back keeps all that the file asks of it, so nothing says what may be done side by side",
      mend: "Ask for a plan, and mend what it finds.",
    });
  if (answer !== undefined) return { kind: "lack", document: describeCrewLack(answer, reading.place) };
  const asked = { result, ...(conflict === undefined ? {} : { conflict }) };
  return { kind: "release", document: describeRelease(file, question, asked) };
};

const learntOf = (learnt: Body<"finish">["learnt"]): ReadonlyMap<string, Lognormal> => new Map(Object.entries(learnt));

const timeOf = (at: string, times: readonly number[]): Lognormal | AskingFault => {
  const [least = 0, likely, most] = times;
  const made = likely === undefined || most === undefined ? fromNumber(least) : fromThree({ least, likely, most });
  return "mend" in made ? { at, what: made.what, mend: made.mend } : made;
};

/** Each kind's computation. */
const KINDS: { readonly [K in Kind]: (read: Read, body: Body<K>, overseer: Overseer) => Answer } = {
  check: ({ reading }) => ({
    kind: "check",
    document: { sound: true, files: reading.files, faults: [], warnings: say(reading.warnings) },
  }),
  model: ({ vehicle }) => ({ kind: "model", document: vehicle }),
  release(read, body, overseer) {
    const question = questionOf(read, body.order);
    if ("kind" in question) return question;
    const { others, reasons } = body;
    const asked = { what: "release", question, others, reasons, about: "", milliseconds: milliseconds(body) } as const;
    return { kind: "release", document: describeRelease(read.file, question, solveRelease(asked, overseer)) };
  },
  plan(read, body, overseer) {
    const question = questionOf(read, body.order);
    if ("kind" in question) return question;
    const asked = { what: "plan", question, others: false, reasons: false, about: "" } as const;
    const answer = solveRelease({ ...asked, milliseconds: milliseconds(body) }, overseer);
    if (answer.result.status === "unknown") return { kind: "unfound", document: { seconds: body.seconds } };
    return answer.plan === undefined
      ? { kind: "release", document: describeRelease(read.file, question, answer) }
      : { kind: "plan", document: answer.plan };
  },
  schedule(read, body, overseer) {
    const given = crewed(read, body);
    if ("kind" in given) return given;
    const { seconds, seed, standing } = body;
    const { on, ...stands } = standing ?? { now: 0, done: [], begun: [], open: [] };
    const answered = solveCrew(
      {
        what: "schedule",
        ...given,
        seconds,
        seed,
        ...(standing === undefined ? {} : { standing: { ...stands, ...(on === undefined ? {} : { on }) } }),
      },
      overseer,
    );
    const plan = answered.answer?.plan;
    return plan === undefined ? noSchedule(read, given.question, answered) : { kind: "schedule", document: plan };
  },
  curve(read, { order, upTo, due, seconds, seed }, overseer) {
    const question = questionOf(read, order, 1);
    if ("kind" in question) return question;
    const asked = { what: "curve", question, upTo, seconds, seed, ...(due === undefined ? {} : { due }) } as const;
    return { kind: "curve", document: solveCrew(asked, overseer).curve };
  },
  finish(read, body, overseer) {
    const given = crewed(read, body);
    if ("kind" in given) return given;
    const { runs, common, seconds, seed, by } = body;
    const finish = { runs, common, seed, learnt: learntOf(body.learnt), ...(by === undefined ? {} : { by }) };
    const answered = solveCrew({ what: "finish", ...given, seconds, seed, finish }, overseer);
    return answered.finish === undefined
      ? noSchedule(read, given.question, answered)
      : { kind: "finish", document: answered.finish };
  },
  improve(read, body, overseer) {
    const { vehicle } = read;
    const given = body.crew === undefined ? { crew: fewestCrew(vehicle) } : crewOfBody(read, body.crew);
    if ("kind" in given) return given;
    const file = body.changes === undefined ? undefined : readChanges(body.changes.path, body.changes.text, vehicle);
    if (file !== undefined && file.changes === undefined) return faultsIn(file.faults);
    const known = vehicle.jobs.map(({ id }) => id);
    const strange = body.jobs.flatMap(({ id }, i) =>
      known.includes(id) ? [] : [unknown(`jobs[${i}]`, "job", id, known)],
    );
    if (strange.length > 0) return refuse(...strange);
    const often =
      body.jobs.length > 0
        ? body.jobs
        : (file?.changes?.jobs.map(({ job, times }) => ({ id: job, weight: times })) ?? []);
    const rate = body.rate ?? file?.changes?.rate;
    const { improved } = solveTimes(
      {
        what: "improve",
        vehicle,
        milliseconds: milliseconds(body),
        asked: {
          runs: body.runs,
          common: body.common,
          seed: body.seed,
          learnt: learntOf(body.learnt),
          jobs: often.length > 0 ? often : known.map((id) => ({ id, weight: 1 })),
          weighed: often.length > 0,
          crew: given.crew,
          changes: file?.changes?.changes ?? [],
          most: body.most,
          ...(rate === undefined ? {} : { rate }),
        },
      },
      overseer,
    );
    return { kind: "improve", document: improved };
  },
  ways(read, body, overseer) {
    const { vehicle } = read;
    const given = body.crew === undefined ? { crew: fewestCrew(vehicle) } : crewOfBody(read, body.crew);
    if ("kind" in given) return given;
    const known = vehicle.jobs.map(({ id }) => id);
    const faults: AskingFault[] = [];
    const time = (at: string, times: readonly number[] | undefined): Lognormal | undefined => {
      const made = times === undefined ? undefined : timeOf(at, times);
      if (made === undefined || !("mend" in made)) return made;
      faults.push(made);
      return undefined;
    };
    const ways = body.ways.map(({ way, job, ...times }, i) => {
      if (!known.includes(job)) faults.push(unknown(`ways[${i}].job`, "job", job, known));
      const [lead, mend] = [time(`ways[${i}].lead`, times.lead), time(`ways[${i}].mend`, times.mend)];
      return { way, job, ...(lead === undefined ? {} : { lead }), ...(mend === undefined ? {} : { mend }) };
    });
    if (faults.length > 0) return refuse(...faults);
    const { runs, common, seed, by } = body;
    const asked = { runs, common, seed, learnt: learntOf(body.learnt), ways, crew: given.crew };
    const { compared } = solveTimes(
      {
        what: "ways",
        vehicle,
        milliseconds: milliseconds(body),
        asked: { ...asked, ...(by === undefined ? {} : { by }) },
      },
      overseer,
    );
    return { kind: "ways", document: compared };
  },
};

/** The computation of a kind with the body that belongs to it: the compiler does not see that the two of a `Wanted` go together. */
const kindOf = <K extends Kind>(kind: K) => KINDS[kind] as (read: Read, body: unknown, overseer: Overseer) => Answer;

/**
 * The answer of a question. Includes are taken from the files given and from nowhere else.
 *
 * @param files of the model, the main one first
 * @throws when a checker refuses what was found: a fault of this program, never of the file.
 */
export const answerQuestion = async (
  wanted: Wanted,
  files: readonly ModelFile[],
  overseer: Overseer,
): Promise<Answer> => {
  const texts = new Map(files.map(({ path, text }) => [path, text]));
  const file = files[0]?.path ?? "";
  const reading = await readVehicleWhole(
    file,
    (path) => texts.get(path) ?? { missing: "it is none of the files given" },
  );
  if (reading.vehicle === undefined) return faultsIn(reading.faults);
  overseer.report({ kind: "doing", what: "beginning" });
  return kindOf(wanted.kind)({ file, vehicle: reading.vehicle, reading }, wanted.body, overseer);
};
