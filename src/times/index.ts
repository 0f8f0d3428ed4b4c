// The door of times: first guesses, what runs teach, the finish of a plan with its chances, and the standards' figures.

export {
  ACCESS,
  CATALOGUE_SPREAD,
  type Element,
  FASTENERS,
  type Factor,
  type Guess,
  type Guessed,
  guess,
  HANDLING,
  type Origin,
  TOOLS,
} from "./catalogue.ts";
export type { Fault } from "./fault.ts";
export {
  chanceWithin,
  fitTimes,
  fromMedian,
  fromMode,
  fromMoments,
  fromPercentiles,
  type Lognormal,
  meanOf,
  medianOf,
  modeOf,
  percentileOf,
  sumOf,
  varianceOf,
} from "./lognormal.ts";
export {
  DEFAULT_SPREAD,
  fromNumber,
  fromRange,
  fromThree,
  type Shifted,
  shiftedPercentile,
  type ThreePoints,
} from "./three.ts";
