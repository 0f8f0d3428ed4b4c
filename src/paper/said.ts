// Owns what each language must say in a pack, one file a sheet: the English says it first.

import type { cards } from "./en/cards.ts";
import type { chart } from "./en/chart.ts";
import type { cover } from "./en/cover.ts";
import type { kit } from "./en/kit.ts";
import type { ledger } from "./en/ledger.ts";
import type { lift } from "./en/lift.ts";
import type { pack } from "./en/pack.ts";
import type { run } from "./en/run.ts";
import type { signOff } from "./en/sign-off.ts";
import type { tags } from "./en/tags.ts";
import type { torque } from "./en/torque.ts";

export interface Words {
  readonly pack: typeof pack;
  readonly cover: typeof cover;
  readonly cards: typeof cards;
  readonly tags: typeof tags;
  readonly chart: typeof chart;
  readonly lift: typeof lift;
  readonly ledger: typeof ledger;
  readonly kit: typeof kit;
  readonly torque: typeof torque;
  readonly signOff: typeof signOff;
  readonly run: typeof run;
  /** A caution by its id; undefined: as the plan says it, in English. */
  readonly cautions: Readonly<Record<string, string>>;
}
