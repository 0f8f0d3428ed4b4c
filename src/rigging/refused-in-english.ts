// Owns the English of what keeps a question about rigging from having an answer.

import { PLAIN } from "./english.ts";
import { type Fault, type FaultSaid, type Refusing, sayRefusal } from "./refusal.ts";

const LEAVE_SOME = "Give a tolerance that leaves something of it.";
const HOOKS = "Give one hook or two.";
const LEGS = "Write legs under lifting.";
const ENDS = "Measure again, and leave out what follows from the rest.";
const near = (known: readonly string[], nearest: string | undefined): string =>
  nearest === undefined ? `There are: ${known.join(", ")}.` : `Nearest: ${nearest}.`;

export const REFUSED_IN_ENGLISH: Refusing = {
  "no figure": ({ value }) => ({ what: `${value} is no figure`, mend: "Give a number." }),
  "not positive": ({ value, unit }, w) => ({
    what: `${w.number(value, 3)} ${unit} is not above nothing`,
    mend: "Give what it is.",
  }),
  "may be nothing": ({ value, unit }, w) => ({
    what: `within its tolerance it may be ${w.number(value, 3)} ${unit}`,
    mend: LEAVE_SOME,
  }),
  "not between": ({ value, low, high, unit }, w) => ({
    what: `${w.number(value, 3)} ${unit} does not lie between ${w.number(low, 3)} and ${w.number(high, 3)}`,
    mend: "Give its limits in order.",
  }),
  "no tolerance": ({ value }, w) => ({
    what: `${w.number(value, 3)} m is no tolerance`,
    mend: "Give how far it may be out, 0 m or more.",
  }),
  "out by its length": ({ within, length }, w) => ({
    what: `its length may be out by ${w.length(within)}, and it is only ${w.length(length)}`,
    mend: LEAVE_SOME,
  }),
  "outside the outline": ({ axis, value, low, high }, w) => ({
    what: `its ${axis} is ${w.length(value)}, and the outline goes from ${w.length(low)} to ${w.length(high)}`,
    mend: "Mend the centre, or draw all that the load fills.",
  }),
  "span misses": ({ from, to, said, follows }, w) => ({
    what: `the span from ${from} to ${to} is ${w.length(said)}, and their places make it ${w.length(follows)}: they miss each other by ${w.length(said - follows)}`,
    mend: ENDS,
  }),
  "length misses": ({ leg, said, follows, across, height, angle }, w) => ({
    what: `the length of ${leg} is ${w.length(said)}, and ${[
      ...(across === undefined ? [] : [`${w.length(across)} across`]),
      ...(height === undefined ? [] : [`${w.length(height)} up`]),
      ...(angle === undefined ? [] : [`${w.angle(angle)} from the horizontal`]),
    ].join(" and ")} make it ${w.length(follows)}: they miss each other by ${w.length(said - follows)}`,
    mend: ENDS,
  }),
  "id twice": ({ id }) => ({ what: `"${id}" is there twice`, mend: "Give each its own name." }),
  "unknown id": ({ id }) => ({ what: `"${id}" is not in the rig`, mend: "Name a leg or an eye of it." }),
  "no lower end": ({ id }) => ({
    what: `its lower end "${id}" is neither an eye nor a point of the beam`,
    mend: "Name an eye of the load.",
  }),
  "no upper end": ({ id }) => ({
    what: `its upper end "${id}" is neither a hook nor a point of the beam`,
    mend: "Name a hook.",
  }),
  "both ends on the beam": () => ({
    what: "both its ends are on the beam",
    mend: "Lead it from the beam up to a hook, or from an eye up to the beam.",
  }),
  "no point of the beam": ({ id }) => ({ what: `"${id}" is no point of the beam`, mend: "Name one of its points." }),
  "beam on nothing": () => ({
    what: "nothing holds it up",
    mend: "Pin one of its points to the hook, or hang it on legs.",
  }),
  "no hook": () => ({ what: "nothing to hang from", mend: HOOKS }),
  "too many hooks": ({ hooks }) => ({
    what: `the legs go to ${hooks.join(", ")}, and at most two hooks can be reckoned`,
    mend: "Lead the legs to one hook or two.",
  }),
  "hook without a place": () => ({ what: "of two hooks each must have its place", mend: "Write at: [x, y, z]." }),
  "hook without a leg": () => ({ what: "no leg leads to it", mend: "Lead a leg to it, or leave it out." }),
  "load without a leg": () => ({ what: "no leg holds the load", mend: "Give at least one leg from an eye." }),
  "no such take-up": ({ taken, most, step }, w) => ({
    what: `${taken} of ${most} steps of ${w.length(step)} is no take-up`,
    mend: "Give whole steps, from 0 to the most there are.",
  }),
  "all taken up": () => ({
    what: "taken up wholly, nothing of it is left",
    mend: "Give fewer steps, or its full length.",
  }),
  "does not span": ({ other, reach, span, from, to }, w) => ({
    what: `it and ${other}, ${w.length(reach)} together, do not span the ${w.length(span)} between ${from} and ${to}`,
    mend: `They must be longer than that together, and for 45° from the horizontal ${w.length(span * Math.SQRT1_2)} each at the least.`,
  }),
  "no common hook": ({ legs }) => ({
    what: `${legs.join(", ")} do not reach one hook together`,
    mend: "Make the short one longer, or hang it from another place.",
  }),
  "does not reach": ({ legs }) => ({
    what: `${legs.join(", ")} do not all reach from their eyes to where they are hung`,
    mend: "Make the short one longer, or bring the hooks nearer.",
  }),
  overstretched: ({ made, reach, tension }, w) => ({
    what: `of ${w.length(made)} it would be pulled to ${w.length(reach)}, with ${w.force(tension)}: no sling stretches so far`,
    mend: "Make it longer, bring nearer what it is led to, or take a stronger one.",
  }),
  "no rest": () => ({
    what: "no place was found in which it comes to rest",
    mend: "Look at the picture of the rig: legs that lead past one another, a beam that may turn over, or hardly any weight.",
  }),
  "curve out of order": () => ({
    what: "its curve has no figures whose reach rises",
    mend: "Give reach and limit, nearest first.",
  }),
  "beyond its reach": ({ reach, from, to }, w) => ({
    what: `its figures go from ${w.length(from)} to ${w.length(to)}, and the lift is at ${w.length(reach)}`,
    mend: "Bring the hoist within its figures: none is guessed beyond them.",
  }),
  "no legs": () => ({ what: "the file has no legs, so nothing says how it is slung", mend: LEGS }),
  "no leg on it": ({ eyes }) => ({ what: `no leg is on an eye of what goes up: ${eyes.join(", ")}`, mend: LEGS }),
  "no centre": ({ parts }) => ({
    what: `none of ${parts.join(", ")} has both a mass and a centre`,
    mend: "Write mass and centre of the heavy ones.",
  }),
  "no place of an eye": () => ({ what: "nothing says where it is", mend: "Write at: [x, y, z]." }),
  "no such hoist": ({ hoist }) => ({ what: `there is no hoist ${hoist}`, mend: "Name a hoist of the file." }),
  "more beams": ({ beams }) => ({
    what: `its legs lead to more than one beam: ${beams.join(", ")}`,
    mend: "Name the legs of one: --legs.",
  }),
  "hoist and hooks": ({ hooks }) => ({
    what: `some legs go to ${hooks.join(", ")}, and others to the hoist's hook`,
    mend: "Give every leg its hook: to.",
  }),
  "pin and hooks": ({ hooks }) => ({
    what: `its pin is on one hook, and legs go to ${hooks.join(", ")}`,
    mend: "Leave out the pin and lead legs from the beam up to both hooks, or lead all legs to the beam.",
  }),
  "no such leg": ({ leg, known, near: nearest }) => ({ what: `there is no leg ${leg}`, mend: near(known, nearest) }),
  "no such eye": ({ eye, known, near: nearest }) => ({ what: `there is no eye ${eye}`, mend: near(known, nearest) }),
  "stays behind": ({ eye, part, task }) => ({
    what: `${eye} is on ${part}, which does not go up with ${task}`,
    mend: "Sling what goes up, or take that part along: --take PART.",
  }),
  "unread length": (said) => said,
};

/** As the command line says it. */
export const faultInEnglish = (fault: Fault): FaultSaid & { readonly at: string } => {
  const { what, mend } = sayRefusal(REFUSED_IN_ENGLISH, fault, PLAIN);
  return { at: fault.at, what, mend };
};
