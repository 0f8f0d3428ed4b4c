// Owns how long a session lives, by where and how it was opened.
import type { Session } from "../../store/index.ts";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

export interface Life {
  /** Milliseconds without a request after which it is over. */
  readonly idle: number;
  /** Milliseconds after which it is over whatever happens. */
  readonly whole: number;
}

/** On a tablet that many hands take up, whoever signed in walks away: 15 minutes, and no longer than a shift. */
const SHARED: Life = { idle: 15 * MINUTE, whole: 12 * HOUR };
/** On one's own device the device itself is locked: 12 hours, so that each day begins with a sign-in; 30 days as NIST SP 800-63B, 4.1.3, has it. */
const OWN: Life = { idle: 12 * HOUR, whole: 30 * DAY };
/** A program does not come back to type: a month without use tells that it is gone. */
const PROGRAM: Life = { idle: 30 * DAY, whole: 365 * DAY };

export const lifeOf = (by: Session["by"], isShared: boolean): Life =>
  by === "token" ? PROGRAM : isShared || by === "pin" ? SHARED : OWN;

/** Whether it may still be used. */
export const isLive = ({ seen, idle, until, ended }: Session, now: number): boolean =>
  ended === undefined && now < until && now - seen < idle;
