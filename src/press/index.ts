// The door of the press: a pack set as a PDF, and the fonts that it is set in.

export { type Font, type FontReading, readFont } from "./fonts.ts";
export { type PressFault, type PressOptions, typeset } from "./typeset.ts";
