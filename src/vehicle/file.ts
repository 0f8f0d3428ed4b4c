// Owns the form of the vehicle file: every key, what it means, its unit and its default, and the model it is read to.

import { kilograms, metres, minutes, readQuantity, writeQuantity } from "../quantity/index.ts";
import type { Desk } from "./desk.ts";
import { hardware, layout, stated, tightening } from "./fastened.ts";
import {
  CARRYING_KINDS,
  type Connection,
  type Hang,
  type Held,
  type Hoist,
  type Job,
  type JobWork,
  KINDS,
  type Part,
  type Position,
  type Refit,
  type Task,
  type Temporary,
  type Vehicle,
  type Way,
} from "./model.ts";
import { needs } from "./need.ts";
import { beams, carryRules, eyes, hooks, legs, obstacles, outline, pads, path, point } from "./rigged.ts";
import {
  count,
  define,
  flag,
  list,
  may,
  measure,
  mention,
  must,
  otherwise,
  quantity,
  readable,
  record,
  row,
  type Shape,
  text,
  things,
  word,
} from "./shape.ts";
import type { Node } from "./source.ts";

/** The one format there is so far; a file says it, so that a later reader knows what it holds. */
export const FORMAT = "unmoor/1";

/**
 * What one person may take off by hand where the file does not say: 25 kg, the reference mass of ISO 11228-1:2021 for
 * the general working population [the figure from memory]. Marked as a default wherever it is shown.
 */
const HAND_LIMIT = kilograms(25);
/** How far inside the polygon of its rests a centre must lie where the file does not say; common practice, marked as a default. */
const MARGIN = metres(0.02);

const length = quantity("length");
const time = quantity("time");
const mass = quantity("mass");
const texts = list(text);
const position = mention("position");

/** "24V" and "24 V" are one voltage; what is no voltage stays as it is written. */
const energy: Shape<string> = {
  called: "a voltage (24 V), or a word for the energy",
  read(node, desk, key) {
    const written = text.read(node, desk, key);
    if (written === undefined) return undefined;
    const reading = readQuantity(written, "voltage");
    return "value" in reading ? writeQuantity(reading.value.nominal, "voltage", reading.value.unit) : written;
  },
  schema: text.schema,
};

const fluid: Shape<string> = { ...text, called: "the name of a fluid" };

/** A thing is its name, or its name and how many. */
const countedThing: Shape<Temporary> = {
  called: "the name of a thing, or { item, count }",
  read(node, desk, key) {
    if (node.kind !== "text") return countedRecord.read(node, desk, key);
    const item = text.read(node, desk, key);
    return item === undefined ? undefined : { item, count: 1 };
  },
  schema: (definitions) => ({ anyOf: [text.schema(definitions), countedRecord.schema(definitions)] }),
};
const countedRecord = record(
  "a counted thing",
  {
    item: must(text, "?", "what it is: plug 16 mm, M12 guide stud"),
    count: otherwise(count, 1, "how many; 1 where it is not said"),
  },
  ({ item, count: many }): Temporary => ({ item, count: many }),
);
const temporary = define("things", list(countedThing));

/** What every step says of itself. */
const work = {
  at: may(position, "the position it is done at"),
  time: must(time, minutes(0), "how long it takes: 12 min"),
  people: otherwise(count, 1, "how many people it takes; 1 where it is not said"),
  needs: otherwise(needs, [], "what must hold before it: ids, any, all, apart, out, clear"),
  without: otherwise(
    list(mention("task")),
    [],
    "tasks with an undo that must not be done while this is: without: [raise]",
  ),
  tools: otherwise(texts, [], "what it takes besides the common hand tools"),
  skill: may(text, "the skill it takes: rigger, electrician"),
  sparks: may(flag, "true: it makes sparks or heat, and is never done while somebody works on a fuel"),
};

const refit = define(
  "refit",
  record(
    "a refit",
    {
      time: may(time, "how long; as the release where it is not said"),
      people: may(count, "how many people; as the release where it is not said"),
      at: may(position, "the position; as the release where it is not said"),
      after: otherwise(
        list(mention("connection", "part", "task")),
        [],
        "what must be back before it: connections refitted, parts on, tasks done",
      ),
      within: may(time, "begins at most so long after each step that it comes after: sealant sets"),
      tools: otherwise(texts, [], "what it takes besides the common hand tools; as the release where it is not said"),
      skill: may(text, "the skill it takes; as the release where it is not said"),
      ...tightening,
      critical: may(
        flag,
        "true: two people read its torque without seeing each other's figure; as long as it is not said, of what carries and has a torque",
      ),
      new: otherwise(texts, [], "what must be new: seal 32, split pin 4"),
      check: may(text, "what to look at afterwards: no seep at pressure"),
      then: otherwise(list(mention("task")), [], "tasks of the way back that it calls for: bleed, adjust, test"),
    },
    ({ new: fresh, after, tools, then, ...rest }): Refit => ({ ...stated(rest), after, tools, fresh, then }),
  ),
);

const way = define(
  "way",
  record(
    "a way to release",
    {
      ...work,
      label: may(text, "what this way is called, where there are several"),
      loosen: otherwise(flag, false, "loosened only: the hardware stays in place and is tightened again"),
      refit: may(refit, "this way's own refit, where it differs from the connection's"),
    },
    (values, { owner, n }): Way => ({ ...values, id: `${owner}/${n}` }),
  ),
);

const held: Shape<Held> = record(
  "what a connection holds",
  {
    fluid: must(fluid, "?", "what is in it: coolant, fuel, oil, hydraulic oil, air"),
    amount: may(quantity("volume"), "how much runs out: 0.4 L"),
  },
  (values): Held => values,
);

const undo = record(
  "an undo",
  {
    label: may(text, "what it is called: Lower to the floor"),
    time: must(time, minutes(0), "how long it takes"),
    people: otherwise(count, 1, "how many people it takes; 1 where it is not said"),
  },
  (values) => values,
);

const hangUndo = record(
  "the undo of a hang",
  {
    time: must(time, minutes(0), "how long it takes"),
    people: otherwise(count, 1, "how many people it takes; 1 where it is not said"),
  },
  (values) => values,
);

const hang = define(
  "hang",
  record(
    "a way to hang a part aside",
    {
      ...work,
      to: must(
        mention("part"),
        "?",
        "the part that it is strapped to, itself held firmly; a strap holds what the hand limit allows",
      ),
      moves: must(length, metres(0), "how far it is moved: every tie left on must have this slack"),
      undo: may(hangUndo, "taking it down again on the way back"),
      temporary: otherwise(temporary, [], "what is put in for it and comes out again: ratchet strap"),
    },
    (values, { owner, n }): Hang => ({ ...values, id: `${owner}/hang-${n}` }),
  ),
);

const positions = things(
  "position",
  record(
    "a position",
    {
      label: may(text, "what it is called; the id made readable where it is not said"),
      people: otherwise(count, 1, "for how many people there is room; 1 where it is not said"),
      needs: otherwise(needs, [], "what must hold for anybody to get there"),
      without: otherwise(list(mention("task")), [], "tasks with an undo that must not be done while anybody is there"),
      at: may(point, "where it is, in the vehicle's frame"),
    },
    (values, { key: id }): Position => ({ ...values, id, label: values.label ?? readable(id) }),
  ),
);

const parts = things(
  "part",
  record(
    "a part",
    {
      label: may(text, "what it is called; the id made readable where it is not said"),
      fixed: otherwise(flag, false, "the vehicle itself, or what stays on it whatever is done"),
      mass: may(measure("mass"), "its mass, with its doubt: 262 kg ± 5 %"),
      centre: may(point, "its centre of mass, in the vehicle's frame"),
      within: may(length, "how far its centre may be out, each way: 20 mm"),
      outline: may(outline, "the boxes that it fills, in the vehicle's frame"),
      hang: otherwise(list(hang), [], "ways to move it aside while other ties stay on"),
      note: may(text, "anything worth knowing"),
    },
    ({ mass: weighed, ...rest }, { key: id }): Part => ({
      ...rest,
      id,
      label: rest.label ?? readable(id),
      ...(weighed === undefined ? {} : { mass: { nominal: weighed.nominal, low: weighed.low, high: weighed.high } }),
    }),
  ),
);

const NO_REFIT: Refit = { after: [], tools: [], fresh: [], then: [] };

const connections = things(
  "connection",
  record(
    "a connection",
    {
      label: may(text, "what it is called; the id made readable where it is not said"),
      joins: must(list(mention("part")), [], "the parts that it ties together, two or more"),
      kind: must(word(KINDS), "mount", "what it is: hose, cable, bolted joint, mount …"),
      at: may(point, "where it is, in the vehicle's frame"),
      carrying: may(flag, `bears weight; true for ${CARRYING_KINDS.join(", ")} where it is not said`),
      rests: otherwise(
        flag,
        false,
        "bears from below, so that it still bears when it is released; needs at and carrying",
      ),
      slack: otherwise(length, metres(0), "free length: how far its ends may be moved apart with it still made"),
      stiffness: may(
        quantity("stiffness"),
        "what it pulls with beyond its slack when it is forgotten; by its kind where it is not said",
      ),
      holds: may(held, "what is in it and runs out"),
      live: may(energy, "what runs in it when it is not isolated: 24 V"),
      isolates: otherwise(list(energy), [], "what is off once it is released: the battery's earth lead isolates 24 V"),
      hidden: otherwise(flag, false, "cannot be seen from where people stand"),
      release: must(list(way), [], "one or more ways to release it; [] for what is never released"),
      refit: otherwise(refit, NO_REFIT, "how it is made again"),
      hardware: otherwise(list(hardware), [], "what it is fastened with"),
      layout: may(layout, "where its bolts are, seen from the wrench: circle of 8, 2 x 5, line of 6, or places"),
      mark: may(text, "mating marks to make before it is parted"),
      plug: otherwise(temporary, [], "what closes the opening, once an end: plug 16 mm"),
      protect: may(text, "what to cover or keep clean: splines, sealing face"),
      catch: may(text, "what to catch when it is opened: 0.4 L coolant"),
      keep: may(text, "what is kept with its place: shims, spacers"),
      temporary: otherwise(temporary, [], "what is put in for it and comes out again: guide stud"),
      note: may(text, "anything worth knowing"),
    },
    ({ release, ...rest }, { key: id }): Connection => ({
      ...rest,
      id,
      label: rest.label ?? readable(id),
      carrying: rest.carrying ?? CARRYING_KINDS.includes(rest.kind),
      ways: release,
    }),
  ),
);

const back = record(
  "the return of a task",
  {
    label: must(text, "?", "what it is called: Fill with coolant"),
    time: must(time, minutes(0), "how long it takes"),
    people: otherwise(count, 1, "how many people it takes; 1 where it is not said"),
    at: may(position, "the position it is done at"),
    after: otherwise(list(mention("connection", "part", "task")), [], "what must be back before it"),
  },
  (values) => values,
);

const tasks = things(
  "task",
  record(
    "a task",
    {
      ...work,
      label: may(text, "what it is called; the id made readable where it is not said"),
      undo: may(undo, "it is a state of the vehicle, set and undone as often as the plan needs: raise, lower"),
      back: may(back, "its return on the way back, once: fill after drain"),
      phase: otherwise(word(["out", "back"] as const), "out", "back: on the way back only (bleed, adjust, test)"),
      after: otherwise(
        list(mention("connection", "part", "task")),
        [],
        "of a task of the way back: what must be back before it",
      ),
      within: may(time, "of a task of the way back: begins at most so long after each step that it comes after"),
      pauses: may(
        flag,
        "whether it may stop for a break and go on after; where it is not said it may, unless it lifts or supports",
      ),
      wait: may(time, "time that nobody need stand by: draining, cooling"),
      supports: otherwise(list(mention("part")), [], "the parts whose weight it takes"),
      lifts: otherwise(
        list(mention("part")),
        [],
        "the parts the hoist takes hold of; what is tied to them goes up too",
      ),
      reach: may(length, "the hoist's reach at this lift"),
      hoist: may(mention("hoist"), "the hoist it takes; the only one, or the order's, where it is not said"),
      path: may(path, "the way the load goes, stretch by stretch; straight up where it is not said"),
      pads: may(pads, "where it bears what it supports or lifts from below: a jack's head, the blocks on a table"),
      empties: otherwise(list(position), [], "positions that nobody may be at meanwhile"),
      drains: otherwise(list(fluid), [], "the fluids it drains"),
      amount: may(quantity("volume"), "how much it drains, of each where it drains more than one: 9 L"),
      isolates: otherwise(list(energy), [], "what is off once it is done: 400 V"),
      temporary: otherwise(temporary, [], "what is put in for it and comes out again: stands, wedges"),
      note: may(text, "anything worth knowing"),
    },
    (values, { key: id }): Task => ({ ...values, id, label: values.label ?? readable(id) }),
  ),
);

const jobWork = record(
  "the work of a job",
  {
    ...work,
    label: may(text, "what it is called; the job's label where it is not said"),
    check: may(text, "what a second person looks at before it is closed over: plate centred on its arbor"),
  },
  (values, { owner }): JobWork => ({ ...values, label: values.label ?? readable(owner) }),
);

const jobs = things(
  "job",
  record(
    "a job",
    {
      label: may(text, "what it is called; the id made readable where it is not said"),
      needs: otherwise(needs, [], "what must hold for the work to be done"),
      work: otherwise(list(jobWork), [], "the work itself"),
      swap: otherwise(list(mention("part")), [], "the parts that come made up with the new assembly"),
    },
    (values, { key: id }): Job => ({ ...values, id, label: values.label ?? readable(id) }),
  ),
);

const hoists = things(
  "hoist",
  record(
    "a hoist",
    {
      label: may(text, "what it is called; the id made readable where it is not said"),
      reach: must(
        list(row<Hoist["reach"][number]>("a pair: [reach, what may hang there]", length, mass)),
        [],
        "pairs of reach and limit, reach rising",
      ),
      hook: may(mass, "what may hang on its hook"),
      tackle: may(mass, "what hangs there besides the load: hook block, shackles, sling"),
    },
    (values, { key: id }): Hoist => ({ ...values, id, label: values.label ?? readable(id) }),
  ),
);

const lifting = record(
  "lifting",
  {
    eyes: otherwise(eyes, [], "lifting eyes by id"),
    hoists: otherwise(hoists, [], "hoists by id"),
    legs: may(legs, "legs of the sling by id"),
    hooks: may(hooks, "hooks by id, where legs name them: two that lift together"),
    beams: may(beams, "lifting beams and spreaders by id"),
    obstacles: may(obstacles, "what stands in the way of a load, by id"),
    checks: may(carryRules, "how the checks of a lift are made"),
  },
  (values) => values,
);

const people = things(
  "person",
  record(
    "a person of the shop",
    {
      label: may(text, "the name; the id made readable where it is not said"),
      skills: otherwise(texts, [], "what this person may do: rigger, electrician"),
    },
    (values, { key: id }): Vehicle["shop"]["people"][number] => ({
      ...values,
      id,
      label: values.label ?? readable(id),
    }),
  ),
);

const shop = record(
  "the shop",
  {
    people: otherwise(people, [], "people by id; none: any crew"),
    tools: otherwise(texts, [], "tools that the shop owns; none: all"),
  },
  (values) => values,
);

const limits = record(
  "the limits",
  {
    hand: may(mass, "what may be taken off by hand in one step; 25 kg where it is not said"),
    margin: may(
      length,
      "how far inside the polygon of its rests a centre of mass must lie; 20 mm where it is not said",
    ),
  },
  (values) => values,
);

const identity = record(
  "the vehicle",
  {
    name: must(text, "?", "what it is called"),
    note: may(text, "anything worth knowing: invented demo vehicle"),
    origin: may(text, "where the origin of the frame is: front axle, middle, floor"),
  },
  (values) => values,
);

/** The whole file. */
export const vehicleFile: Shape<Vehicle> = record(
  "a vehicle file",
  {
    format: must(word([FORMAT] as const), FORMAT, `the format of the file: ${FORMAT}`),
    include: otherwise(texts, [], "files to read first, beside this one or below"),
    omits: otherwise(texts, [], "ids of the files read before this one that are left out here, or written anew"),
    vehicle: must(identity, { name: "?" }, "what it is: { name, note, origin }"),
    limits: otherwise(limits, {}, "hand limit and margin"),
    first: otherwise(
      list(mention("connection", "task")),
      [],
      "connections or tasks before anything else; back last, in reverse",
    ),
    positions: otherwise(positions, [], "where people work, by id"),
    parts: must(parts, [], "rigid things, by id; one or more are fixed"),
    connections: otherwise(connections, [], "what ties parts together, by id"),
    tasks: otherwise(tasks, [], "work that is no release or refit, by id"),
    jobs: otherwise(jobs, [], "why the assembly comes out, by id"),
    lifting: otherwise(lifting, { eyes: [], hoists: [] }, "eyes, hoists, legs, hooks, beams, obstacles"),
    shop: otherwise(shop, { people: [], tools: [] }, "people and tools of the shop"),
  },
  (values): Vehicle => ({
    ...values.vehicle,
    limits: {
      hand: values.limits.hand ?? HAND_LIMIT,
      handIsDefault: values.limits.hand === undefined,
      margin: values.limits.margin ?? MARGIN,
      marginIsDefault: values.limits.margin === undefined,
    },
    first: values.first,
    positions: values.positions,
    parts: values.parts,
    connections: values.connections,
    tasks: values.tasks,
    jobs: values.jobs,
    eyes: values.lifting.eyes,
    hoists: values.lifting.hoists,
    ...(values.lifting.legs === undefined ? {} : { legs: values.lifting.legs }),
    ...(values.lifting.hooks === undefined ? {} : { hooks: values.lifting.hooks }),
    ...(values.lifting.beams === undefined ? {} : { beams: values.lifting.beams }),
    ...(values.lifting.obstacles === undefined ? {} : { obstacles: values.lifting.obstacles }),
    ...(values.lifting.checks === undefined ? {} : { lifted: values.lifting.checks }),
    shop: values.shop,
  }),
);

/** The model of a file's tree; what is wrong is on the desk. */
export const readFile = (root: Node, desk: Desk): Vehicle | undefined => vehicleFile.read(root, desk, "the file");
