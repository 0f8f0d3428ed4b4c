// The door of paper: what stands on each sheet of a job pack, as data, and the same as a web page.

export { type PackAsked, packOf } from "./pack.ts";
export { packPage } from "./page.ts";
export type { RunTold } from "./run-sheets.ts";
export {
  type Block,
  type Face,
  type Lang,
  type Pack,
  type Paper,
  type Roll,
  SHEETS,
  type Sheet,
  type SheetKind,
  textsOf,
} from "./sheet.ts";
export { EDGE, moduleOf, QUIET, rollFault } from "./tag-faces.ts";
