// Owns the code of the first set-up: made when nobody can sign in yet, shown where the server was started, good once and as long as the process runs.

import { randomInt, timingSafeEqual } from "node:crypto";
import { digestOf } from "./tokens.ts";

/** Letters and digits that nobody takes for others. */
const SIGNS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
/** 12 of 32 signs: 60 bits. */
const GROUPS = 3;
const GROUP = 4;

export class SetUpCode {
  private digest: string | undefined;

  /** A new code; the one before it is void. */
  make(): string {
    const group = () => Array.from({ length: GROUP }, () => SIGNS[randomInt(SIGNS.length)]).join("");
    const code = Array.from({ length: GROUPS }, group).join("-");
    this.digest = digestOf(plain(code));
    return code;
  }

  fits(code: string): boolean {
    if (this.digest === undefined) return false;
    return timingSafeEqual(Buffer.from(digestOf(plain(code))), Buffer.from(this.digest));
  }

  spend(): void {
    this.digest = undefined;
  }
}

const plain = (code: string): string => code.toUpperCase().replaceAll(/[^0-9A-Z]/g, "");
