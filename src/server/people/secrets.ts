// Owns how passwords and PINs are made into what may be kept, and compared with it: scrypt, few at a time, as slow for nobody as for somebody.

import { createHmac, randomBytes, type ScryptOptions, scrypt, timingSafeEqual } from "node:crypto";
import { Problem } from "../http/problem.ts";

/** What one hash costs: `N` blocks of `r` × 128 bytes, `p` times. */
export interface Cost {
  readonly N: number;
  readonly r: number;
  readonly p: number;
}

/**
 * OWASP Password Storage Cheat Sheet, section scrypt, lists settings of equal strength; of these the one of 16 MiB, since a shop's server has little
 * memory and answers other requests meanwhile.
 */
const COST: Cost = { N: 2 ** 14, r: 8, p: 5 };

/** Hashes computed at once: each takes a core and its memory. */
const AT_ONCE = 2;
/** Hashes waiting; whoever comes then is told to come again. */
const WAITING = 64;
const SALT = 16;
const LENGTH = 32;
/** Milliseconds for which a secret that was right is known again without its cost: a device brings an hour's seals at once. */
const LATELY = 300_000;
const MOST_LATELY = 1_000;

export class Secrets {
  private readonly cost: Cost;
  private readonly now: () => number;
  private readonly nobody: string;
  private readonly lately = new Map<string, { readonly mac: Buffer; readonly until: number }>();
  /** Of this process alone, so that what is remembered says nothing to who reads it elsewhere. */
  private readonly key = randomBytes(32);
  private running = 0;
  private readonly queue: (() => void)[] = [];

  constructor(now: () => number, cost: Cost = COST) {
    this.now = now;
    this.cost = cost;
    this.nobody = say(cost, randomBytes(SALT), randomBytes(LENGTH));
  }

  /** `scrypt$N$r$p$salt$hash`, both base64url. @throws Problem 503 when too many wait */
  async hash(secret: string): Promise<string> {
    const salt = randomBytes(SALT);
    return say(this.cost, salt, await this.derive(secret, salt, this.cost));
  }

  /** Whether a secret is the one of a hash; without one it takes as long, so that time does not tell who exists. @throws Problem 503 */
  async check(hash: string | undefined, secret: string): Promise<boolean> {
    const [, N, r, p, salt = "", wanted = ""] = (hash ?? this.nobody).split("$");
    const cost = { N: Number(N), r: Number(r), p: Number(p) };
    const derived = await this.derive(secret, Buffer.from(salt, "base64url"), cost);
    return timingSafeEqual(derived, Buffer.from(wanted, "base64url")) && hash !== undefined;
  }

  /** The same for a secret that is given again and again: only one that was right lately is known without the work. */
  async checkAgain(hash: string | undefined, secret: string): Promise<boolean> {
    if (hash === undefined) return this.check(hash, secret);
    const mac = createHmac("sha256", this.key).update(`${hash}\n${secret}`).digest();
    const known = this.lately.get(hash);
    if (known !== undefined && this.now() < known.until && timingSafeEqual(known.mac, mac)) return true;
    const right = await this.check(hash, secret);
    if (right) {
      this.lately.delete(hash);
      this.lately.set(hash, { mac, until: this.now() + LATELY });
      const [oldest] = this.lately.keys();
      if (this.lately.size > MOST_LATELY && oldest !== undefined) this.lately.delete(oldest);
    }
    return right;
  }

  private async derive(secret: string, salt: Buffer, { N, r, p }: Cost): Promise<Buffer> {
    await this.turn();
    try {
      return await scryptAsync(normal(secret), salt, { N, r, p, maxmem: 256 * N * r * 2 });
    } finally {
      this.running--;
      this.queue.shift()?.();
    }
  }

  private async turn(): Promise<void> {
    if (this.running >= AT_ONCE) {
      if (this.queue.length >= WAITING) throw new Problem(503, "busy", ["manySignIn"], ["tryAgain"], { after: 2 });
      await new Promise<void>((resolve) => this.queue.push(resolve));
    }
    this.running++;
  }
}

/** The same word however a keyboard composes it: NIST SP 800-63B, 5.1.1.2, asks for NFKC or NFKD. */
const normal = (secret: string): string => secret.normalize("NFKC");

const say = ({ N, r, p }: Cost, salt: Buffer, hash: Buffer): string =>
  ["scrypt", N, r, p, salt.toString("base64url"), hash.toString("base64url")].join("$");

const scryptAsync = (secret: string, salt: Buffer, options: ScryptOptions): Promise<Buffer> =>
  new Promise((resolve, reject) =>
    scrypt(secret, salt, LENGTH, options, (error, key) => (error === null ? resolve(key) : reject(error))),
  );
