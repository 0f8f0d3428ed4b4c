// The door of the press: a pack made ready and set as a PDF, and the fonts that it is set in.

export { type Font, type FontReading, readFont } from "./fonts.ts";
export { type Laid, type LayOptions, lay, type PressFault } from "./lay.ts";
export { type PressOptions, typeset } from "./typeset.ts";
