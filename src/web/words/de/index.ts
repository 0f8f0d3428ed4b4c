// Owns the German words of the screens, one file for each of them.

import type { Words } from "../said.ts";
import { account } from "./account.ts";
import { board } from "./board.ts";
import { device } from "./device.ts";
import { door } from "./door.ts";
import { drafts } from "./drafts.ts";
import { gates } from "./gates.ts";
import { hand } from "./hand.ts";
import { improve } from "./improve.ts";
import { kinds } from "./kinds.ts";
import { lift } from "./lift.ts";
import { order } from "./order.ts";
import { people } from "./people.ts";
import { runs } from "./runs.ts";
import { sheet } from "./sheet.ts";
import { start } from "./start.ts";
import { ties } from "./ties.ts";
import { timeline } from "./timeline.ts";
import { times } from "./times.ts";
import { vehicle } from "./vehicle.ts";

export const de: Words = {
  sheet,
  start,
  account,
  board,
  device,
  door,
  drafts,
  gates,
  people,
  kinds,
  improve,
  lift,
  order,
  runs,
  ties,
  timeline,
  times,
  vehicle,
  hand,
};
