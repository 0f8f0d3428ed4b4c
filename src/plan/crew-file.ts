// Owns the crew file, *.crew.yaml: who is there, when, with which skills, and what there is of each tool. Read as the vehicle file is, every fault at its place.

import { type Metres, type Minutes, metres, minutes } from "../quantity/index.ts";
import {
  besideSchema,
  count,
  type Fault,
  type JsonSchema,
  list,
  may,
  must,
  otherwise,
  quantity,
  readable,
  readBeside,
  record,
  type Shape,
  text,
  things,
  word,
} from "../vehicle/index.ts";
import { type Crew, type CrewPerson, type Span, USUAL_GOING } from "./crew.ts";

const FORMAT = "unmoor-crew/1";

const CLOCK = "([01]?\\d|2[0-4]):([0-5]\\d)";
const ONE = new RegExp(`^${CLOCK}$`);
const TWO = new RegExp(`^${CLOCK}\\s*[-–]\\s*${CLOCK}$`);

const DAY = 24 * 60;

const timeOf = (hours: string | undefined, rest: string | undefined): number => Number(hours) * 60 + Number(rest);

/** Text of a form of its own, with what it comes to; what is no such text, or comes to nothing, is a fault. */
const written = <T>(
  called: string,
  pattern: RegExp,
  mend: string,
  make: (found: RegExpExecArray) => T | undefined,
): Shape<T> => ({
  called,
  read(node, desk, key) {
    const found = node.kind === "text" ? pattern.exec(node.text.trim()) : null;
    const made = found === null ? undefined : make(found);
    if (made !== undefined) return made;
    const says = node.kind === "text" ? `"${node.text}"` : `a ${node.kind}`;
    desk.fault("wrong-form", node, `${key} is ${says}, and ${called} is wanted.`, mend, { key, wanted: called });
    return undefined;
  },
  schema: () => ({ type: "string", pattern: pattern.source, description: called }),
});

const clock = written("a time of day", ONE, "Write hours and minutes: 7:30.", ([, h, m]) => timeOf(h, m));

const spanOf = ([, h, m, h2, m2]: RegExpExecArray): Span => {
  const [from, until] = [timeOf(h, m), timeOf(h2, m2)];
  // A night shift ends on the next day.
  return { from, until: until > from ? until : until + DAY };
};

const span = written("a span of the day", TWO, "Write two times of day with a hyphen between: 7:30-16:00.", spanOf);

/** One as long as half a day was written the wrong way round. */
const pause = written(
  "a break of less than half a day",
  TWO,
  "Write when it begins and when it ends with a hyphen between: 12:00-12:30.",
  (found) => {
    const away = spanOf(found);
    return away.until - away.from < DAY / 2 ? away : undefined;
  },
);

const texts = list(text);

const person = record(
  "a person of the crew",
  {
    label: may(text, "the name; the id made readable where it is not said"),
    skills: otherwise(texts, [], "what this person may do: rigger, electrician"),
    shift: may(span, "when this person is there each day; the file's shift where it is not said"),
    breaks: may(list(pause), "when this person is away in the shift; the file's breaks where it is not said"),
  },
  (values, { key: id }) => ({ ...values, id, label: values.label ?? readable(id) }),
);

const tool = record(
  "a tool that exists in a number",
  {
    tool: must(text, "?", "its name, as the vehicle file writes it"),
    count: must(count, 1, "how many there are"),
  },
  (values) => values,
);

const system = record(
  "a system that people share",
  {
    system: must(text, "?", "a fluid or an energy, as the vehicle file writes it: fuel, 400 V"),
    count: must(count, 1, "how many steps may work on it at a time"),
  },
  (values) => values,
);

const going = record(
  "the going from place to place",
  {
    walk: may(quantity("length"), "how far somebody walks in a minute: 60 m"),
    settle: may(quantity("time"), "what each change of position takes besides: put down, take up"),
    climb: may(quantity("time"), "what getting under, in or up takes besides, and as much getting out"),
  },
  (values: { readonly walk?: Metres; readonly settle?: Minutes; readonly climb?: Minutes }) => ({
    speed: values.walk ?? metres(USUAL_GOING.speed),
    settle: values.settle ?? minutes(USUAL_GOING.settle),
    climb: values.climb ?? minutes(USUAL_GOING.climb),
  }),
);

const crewFile: Shape<Crew> = record(
  "a crew file",
  {
    format: must(word([FORMAT] as const), FORMAT, `the format of the file: ${FORMAT}`),
    note: may(text, "anything worth knowing: invented crew"),
    begins: may(clock, "when the order begins; with the first shift where it is not said"),
    shift: may(span, "when the people are there, each day; always where it is not said"),
    breaks: otherwise(list(pause), [], "when they are away in the shift"),
    people: must(things("person", person), [], "who is there, by id"),
    tools: otherwise(
      list(tool),
      [],
      "tools of which there are more or fewer than one, or that exist in a number at all",
    ),
    systems: otherwise(list(system), [], "systems that one step works at a time, or more than one may"),
    going: may(going, "how long it takes to go from one position to another"),
  },
  (values): Crew => {
    const people = values.people.map((one): CrewPerson => {
      const shift = one.shift ?? values.shift;
      return {
        id: one.id,
        label: one.label,
        skills: one.skills,
        ...(shift === undefined ? {} : { days: { shift, breaks: one.breaks ?? values.breaks } }),
      };
    });
    const first = Math.min(...people.map((one) => one.days?.shift.from ?? Number.POSITIVE_INFINITY));
    const begins = values.begins ?? (Number.isFinite(first) ? first : undefined);
    return {
      people,
      able: false,
      ...(values.note === undefined ? {} : { note: values.note }),
      ...(begins === undefined ? {} : { begins }),
      tools: new Map(values.tools.map((one) => [one.tool, one.count])),
      systems: new Map(values.systems.map((one) => [one.system, one.count])),
      going: values.going ?? USUAL_GOING,
    };
  },
);

/** Reads the text of a crew file; absent when there is a fault. */
export const readCrew = (
  file: string,
  content: string,
): { readonly crew?: Crew; readonly faults: readonly Fault[] } => {
  const { value, faults } = readBeside(file, content, crewFile);
  return { ...(value === undefined ? {} : { crew: value }), faults };
};

/** The JSON Schema of the crew file. */
export const crewSchema = (): JsonSchema =>
  besideSchema("Crew file", "Who is there, when, and what there is of each tool: *.crew.yaml.", crewFile);
