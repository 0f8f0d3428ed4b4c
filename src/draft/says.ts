// Owns the sentences that a draft says by itself: what was taken for granted, what must come before, what was not said. In English; a language's file has its own.

export const SAYS = {
  head: 'A draft from a narration: every figure written "?" is still to be asked, and what was taken for granted is said beside it.',
  note: "draft from a narration",
  otherSide: "as on the other side",
  unknownWord: "{name} is no word of the lists; its kind is a guess",
  unheld: "what holds it was not said",
  kindByName: "its kind, from its name",
  unsure: "heard so, {share} % sure",
  holdsByName: "assumed from its name",
  bears: "a mount bears the weight",
  holds: "it holds {fluid}",
  covered: "told after {name} at the same place, so it may lie under it",
  undrained: "{names}: nothing was said before of draining the {fluids}. Is it drained, or caught?",
  orThe: " or the ",
  unsupported: "{name} is undone, and nothing was said before of what takes the weight. What does?",
  oneSide: "{name} was said to be on both sides, and one was undone. What of the other?",
  nowhere: "{name} is undone at a place where nobody goes in this narration ({place}). From where is it reached?",
  oneThing: "{name} and {other} are taken as one. Are they?",
  live: "{name} is undone, and nothing was said of the battery or another isolation. Is it dead by then?",
  notAsMany: "The closing remark counts {claimed}, and {told} connections were told there. Which is missing?",
  stillOn: '"{words}", and {name} was named and not undone. Is it still on?',
  loosened: "{name} was only loosened, and by then all is said to be free.",
  stillTies: "By then all is said to be free, and {name} still ties it by the search for freedom.",
} as const;
export type Says = keyof typeof SAYS;

/** A sentence with what it is about put in. */
export const filled = (sentence: string, about: Readonly<Record<string, string | number>>): string =>
  sentence.replace(/\{(\w+)\}/g, (whole, name: string) => String(about[name] ?? whole));
