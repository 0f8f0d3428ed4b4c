// The door of times: first guesses, what runs teach, the finish of a plan with its chances, and the standards' figures.

export {
  type Belief,
  medianBelief,
  type Predictive,
  plugInMean,
  predictedChance,
  predictedPercentile,
  predictive,
  see,
} from "./belief.ts";
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
export { type CauseLearnt, type Course, learnCauses } from "./causes.ts";
export { type CrewLearning, crawford, learnCrew, type Turn, wright } from "./curve.ts";
export { type Demonstrated, demonstrate, type Requirement, unsound } from "./demonstrate.ts";
export {
  type CountPlan,
  countPlan,
  mostMean,
  mostPercentile,
  passesMedianPlan,
  passesPercentilePlan,
  type Risks,
  type Sequential,
  sequentialTest,
  sizeOfMeanPlan,
  sizeOfPercentilePlan,
  sizeOfPlainPlan,
} from "./demonstration.ts";
export type { Fault } from "./fault.ts";
export { chanceOf, type Estimate, gain, meanFinish, percentile, type Worth, worthKnowing } from "./finish.ts";
export { type Habits, type Lesson, learn, type Seen, type Subject, USUAL_HABITS } from "./learn.ts";
export { type Chance, type Look, type Looked, stillMadeChance } from "./left-on.ts";
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
  quantileSpread,
  sumOf,
  varianceOf,
} from "./lognormal.ts";
export {
  figuresOfFinishes,
  type JobFinishes,
  type JobTime,
  meanActive,
  mixturePercentile,
  type SimulatedFigures,
  type StandardFigures,
  standardFigures,
} from "./maintainability.ts";
export type { Activity, ByQuantile, Calendar, Network } from "./network.ts";
export { Replay } from "./replay.ts";
export { type Observation, type RunFault, type Runs, readRuns, type Verified } from "./runs.ts";
export { type Luck, type Simulated, simulate } from "./simulate.ts";
export {
  DEFAULT_SPREAD,
  fromNumber,
  fromRange,
  fromThree,
  type Shifted,
  shiftedPercentile,
  type ThreePoints,
} from "./three.ts";
