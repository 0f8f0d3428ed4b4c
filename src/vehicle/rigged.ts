// Owns what a file says of the lift itself: boxes that things fill, eyes and their rules, the legs of a sling, what stands in the way, the path, the pads of a jack.

import { kilograms, metres } from "../quantity/index.ts";
import {
  type BeamPoint,
  type Box,
  type CarryRules,
  EYE_RULES,
  type Eye,
  LEG_KINDS,
  type LiftBeam,
  type LiftHook,
  type Obstacle,
  type Pad,
  type PathStretch,
  type Point,
  SHARING_RULES,
  type SlingLeg,
  WEB_COLOURS,
} from "./model.ts";
import {
  count,
  define,
  list,
  may,
  mayWait,
  measure,
  mention,
  must,
  quantity,
  readable,
  record,
  row,
  type Shape,
  text,
  things,
  WRITTEN,
  word,
} from "./shape.ts";
import { isEmpty } from "./source.ts";

const length = quantity("length");
const mass = quantity("mass");
const wholePoint: Shape<Point> = define(
  "point",
  row<Point>(
    "a point: [x, y, z] with units, x forward, y left, z up",
    quantity("length", true),
    quantity("length", true),
    quantity("length", true),
  ),
);
export const point: Shape<Point> = mayWait(wholePoint);

/** A bare figure: a share, a factor, a component of a direction. */
const figure: Shape<number> = {
  called: "a bare figure: 1, 0.5, -1",
  read(node, desk, key) {
    const value = node.kind === "text" && !isEmpty(node) ? Number(node.text) : Number.NaN;
    if (Number.isFinite(value)) return value;
    desk.fault("wrong-form", node, `${key} is no bare figure.`, "Write a number without a unit: 0, 1, -0.5.", {
      key,
      wanted: "a bare figure",
    });
    return undefined;
  },
  schema: () => WRITTEN,
};
const direction = row<readonly [number, number, number]>(
  "a direction: three bare figures, [0, 0, 1] is straight up",
  figure,
  figure,
  figure,
);

const NOWHERE: Point = [metres(0), metres(0), metres(0)];
const corners = {
  from: must(point, NOWHERE, "one corner of a box with faces square to the axes"),
  to: must(point, NOWHERE, "the corner across"),
};
const boxed = ({ from, to }: { readonly from: Point; readonly to: Point }): Box => ({
  low: [0, 1, 2].map((i) => Math.min(from[i]!, to[i]!)) as unknown as Point,
  high: [0, 1, 2].map((i) => Math.max(from[i]!, to[i]!)) as unknown as Point,
});

/** What a part fills, in boxes. */
export const outline: Shape<readonly Box[]> = list(define("box", record("a box", corners, boxed)));

export const obstacles: Shape<readonly Obstacle[]> = things(
  "obstacle",
  record(
    "an obstacle",
    { ...corners, label: may(text, "what it is called; the id made readable where it is not said") },
    ({ label, ...rest }, { key: id }): Obstacle => ({ id, label: label ?? readable(id), ...boxed(rest) }),
  ),
);

export const eyes: Shape<readonly Eye[]> = things(
  "eye",
  record(
    "a lifting eye",
    {
      on: must(mention("part"), "?", "the part that it is on"),
      at: may(point, "where it is, in the vehicle's frame"),
      limit: may(mass, "what may hang on it: 750 kg"),
      kind: may(text, "what it is: shouldered eye bolt, bracket of the maker"),
      rule: may(
        word(EYE_RULES),
        "how it loses by the angle of the pull; its angle is not checked where it is not said",
      ),
      thread: may(text, "its thread, for the limit of the rule's own table where limit is not said: M16"),
      axis: may(direction, "the axis of its bolt, out of the part; straight up where it is not said"),
      face: may(direction, "square to the flat of its ring; whether the pull lies in the ring is not checked without"),
    },
    (values, { key: id }): Eye => ({ ...values, id }),
  ),
);

const takeUp = record(
  "a take-up",
  {
    step: must(length, metres(0.01), "how much one step shortens"),
    most: must(count, 1, "how many steps there are"),
    taken: may(count, "how many are taken up now; none where it is not said"),
  },
  ({ taken = 0, ...rest }): NonNullable<SlingLeg["takeUp"]> => ({ ...rest, taken }),
);

const shackle = record(
  "a shackle",
  {
    limit: may(mass, "what may hang on it"),
    side: may(quantity("angle"), "how far the pull is off the line square to its pin; 0° where it is not said"),
  },
  (values): NonNullable<SlingLeg["shackle"]> => values,
);

export const legs: Shape<readonly SlingLeg[]> = things(
  "leg",
  record(
    "a leg of the sling",
    {
      from: must(mention("eye", "beam point"), "?", "the eye that it is on, or the point of a beam that it holds up"),
      to: may(mention("hook", "beam point"), "what holds its upper end; the hoist's hook where it is not said"),
      length: must(
        measure("length"),
        { nominal: metres(1), low: metres(1), high: metres(1), unit: "m" },
        "its length without load, nothing taken up, with how far that may be out: 0.8 m ± 3 mm",
      ),
      kind: may(word(LEG_KINDS), "what it is made of: chain, wire rope, web"),
      size: may(length, "diameter of the link's steel or of the rope: 8 mm"),
      grade: may(word(["8", "10"] as const), "grade of the chain; 8 where it is not said"),
      colour: may(word(WEB_COLOURS), "colour of a web by EN 1492: green"),
      limit: may(mass, "what may hang on it, straight; of the standard's table where it is not said"),
      stiffness: may(quantity("force"), "its EA, the pull that would double its length; by kind where it is not said"),
      links: may(count, "how many links of the chain may be taken up"),
      "take-up": may(takeUp, "an adjuster, or the hook-in positions of a web: { step, most, taken }"),
      shackle: may(shackle, "the shackle at the eye"),
    },
    ({ length: made, "take-up": taken, ...rest }, { key: id }): SlingLeg => ({
      ...rest,
      id,
      length: made.nominal,
      ...(made.high > made.low ? { within: metres((made.high - made.low) / 2) } : {}),
      ...(taken === undefined ? {} : { takeUp: taken }),
    }),
  ),
);

export const hooks: Shape<readonly LiftHook[]> = things(
  "hook",
  record(
    "a hook",
    {
      at: may(point, "where it stands when the weight comes on, in the vehicle's frame; both of two need it"),
      limit: may(mass, "what may hang on it; that of the hoist's hook where it is not said"),
    },
    (values, { key: id }): LiftHook => ({ ...values, id }),
  ),
);

export const beams: Shape<readonly LiftBeam[]> = things(
  "beam",
  record(
    "a lifting beam or spreader",
    {
      mass: must(mass, kilograms(1), "what it weighs itself: 24 kg"),
      centre: must(point, NOWHERE, "its centre of mass, in axes of its own, level as drawn"),
      points: must(
        things(
          "beam point",
          define(
            "beam-point",
            record(
              "a point of the beam",
              { at: must(point, NOWHERE, "where it is, in the beam's axes") },
              ({ at }, { key: id }): BeamPoint => ({ id, at }),
            ),
          ),
        ),
        [],
        "the points that legs and hook take hold of, by id",
      ),
      pin: may(mention("beam point"), "the point that hangs on the hook itself; without, legs go up from its points"),
      limit: may(mass, "what may hang below it"),
    },
    (values, { key: id }): LiftBeam => ({ ...values, id }),
  ),
);

/** Of one lift, in the order it goes. */
export const path: Shape<readonly PathStretch[]> = list(
  record(
    "a stretch of the path",
    {
      move: must(point, NOWHERE, "how far the load goes: [0 m, 0 m, 0.4 m] is straight up"),
      pitch: may(quantity("angle", true), "to what pitch it is brought on the way; nose down is positive"),
      roll: may(quantity("angle", true), "to what roll; left side up is positive"),
      label: may(text, "what it is called: forward from under the platform"),
    },
    (values): PathStretch => values,
  ),
);

/** Where a jack, a stand or a table bears a part from below. */
export const pads: Shape<readonly Pad[]> = list(
  record(
    "a pad",
    {
      at: must(point, NOWHERE, "the middle of its face, in the vehicle's frame"),
      size: may(
        row<NonNullable<Pad["size"]>>("two lengths: [forward, across]", length, length),
        "how long it is forward and across; a point where it is not said",
      ),
      stiffness: may(quantity("stiffness"), "how stiff it is; all alike where it is not said"),
      limit: may(
        quantity("mass"),
        "what it may carry, by the jack's plate or the stand's; not checked where it is not said",
      ),
    },
    (values): Pad => values,
  ),
);

export const carryRules: Shape<CarryRules> = record(
  "the rules of the checks",
  {
    sharing: may(word(SHARING_RULES), "how many of three and more legs are let carry; two carry where it is not said"),
    factor: may(figure, "what lifting adds to the weight; 1.1 where it is not said"),
  },
  (values): CarryRules => values,
);
