// The door of vehicle: the model, the reader that makes it from text, and its faults and warnings.

export { besideSchema, readBeside } from "./beside.ts";
export { compareFaults, FAULTS, type Fault, type Place, type Rule, sentence, WARNINGS, writePlace } from "./fault.ts";
export type { Load } from "./include.ts";
export {
  CARRYING_KINDS,
  type Connection,
  type Consumed,
  EYE_RULES,
  type Eye,
  type Hang,
  type Hardware,
  type Held,
  type Hoist,
  type Job,
  type JobWork,
  KINDS,
  type Kind,
  type Layout,
  LEG_KINDS,
  type LiftBeam,
  type LiftHook,
  type Mass,
  type Need,
  type Obstacle,
  type Pad,
  type Part,
  type PathStretch,
  type Point,
  type Position,
  type Refit,
  type Rubbing,
  type SlingLeg,
  type Task,
  type Temporary,
  type ThreadState,
  type Torque,
  type Vehicle,
  type Way,
  WEB_COLOURS,
  type Work,
} from "./model.ts";
export { indexWords } from "./nearest.ts";
export { type Gap, type Reading, readVehicle, readVehicleWhole } from "./read.ts";
export { vehicleSchema } from "./schema.ts";
export {
  count,
  GAP,
  type JsonSchema,
  list,
  may,
  must,
  otherwise,
  quantity,
  readable,
  record,
  type Shape,
  text,
  things,
  word,
} from "./shape.ts";
export { FILE_LIMIT } from "./source.ts";
export { permissibleDeviation } from "./wrench-deviation.ts";
