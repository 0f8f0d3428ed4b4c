// Owns the words of a pack together, in German.

import type { Words } from "../said.ts";
import { cards } from "./cards.ts";
import { cautions } from "./cautions.ts";
import { chart } from "./chart.ts";
import { cover } from "./cover.ts";
import { kit } from "./kit.ts";
import { ledger } from "./ledger.ts";
import { lift } from "./lift.ts";
import { pack } from "./pack.ts";
import { run } from "./run.ts";
import { signOff } from "./sign-off.ts";
import { tags } from "./tags.ts";
import { torque } from "./torque.ts";

export const de: Words = { pack, cover, cards, tags, chart, lift, ledger, kit, torque, signOff, run, cautions };
