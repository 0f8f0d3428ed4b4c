// Owns the server's half of a seal: the key pair in the store, and the opening of what a device sealed to it.

import {
  createDecipheriv,
  createPrivateKey,
  createPublicKey,
  diffieHellman,
  generateKeyPairSync,
  hkdfSync,
  type KeyObject,
} from "node:crypto";
import { SEAL, type SealedFor, sealedFor } from "../../ledger/index.ts";
import type { Accounts } from "../../store/index.ts";

const NAME = "sealing key";
/** Bytes: public key of the moment, text, tag. */
const POINT = 32;
const TEXT = 8;
const TAG = 16;

interface Pair {
  readonly privateKey: KeyObject;
  readonly point: Buffer;
}

export class Sealing {
  private readonly accounts: Accounts;
  private pair: Promise<Pair> | undefined;

  constructor(accounts: Accounts) {
    this.accounts = accounts;
  }

  /** The key that devices seal to: X25519, 64 hexadecimal digits. The same for every process of a store, and for good. */
  async publicKey(): Promise<string> {
    return (await this.keys()).point.toString("hex");
  }

  /** The PIN in a seal; undefined where it was not sealed for this, or not to this key. @param sealed 112 hexadecimal digits */
  async open(sealed: string, about: SealedFor): Promise<string | undefined> {
    const { privateKey, point } = await this.keys();
    const bytes = Buffer.from(sealed, "hex");
    if (bytes.length !== POINT + TEXT + TAG || bytes.toString("hex") !== sealed) return undefined;
    const [theirs, text, tag] = [bytes.subarray(0, POINT), bytes.subarray(POINT, -TAG), bytes.subarray(-TAG)];
    try {
      // A point of small order has no secret to share, and OpenSSL says so.
      const shared = diffieHellman({ privateKey, publicKey: publicOf(theirs) });
      const derived = Buffer.from(hkdfSync("sha256", shared, Buffer.concat([theirs, point]), SEAL, 44));
      const way = createDecipheriv("aes-256-gcm", derived.subarray(0, 32), derived.subarray(32));
      way.setAAD(Buffer.from(sealedFor(about), "utf8"));
      way.setAuthTag(tag);
      return Buffer.concat([way.update(text), way.final()])
        .toString("utf8")
        .trimEnd();
    } catch {
      return undefined;
    }
  }

  private keys(): Promise<Pair> {
    this.pair ??= this.settle();
    this.pair.catch(() => {
      this.pair = undefined;
    });
    return this.pair;
  }

  private async settle(): Promise<Pair> {
    const made = generateKeyPairSync("x25519").privateKey.export({ format: "pem", type: "pkcs8" }) as string;
    const kept = (await this.accounts.setting(NAME)) ?? (await this.accounts.settle(NAME, made));
    const privateKey = createPrivateKey(kept);
    const { x = "" } = createPublicKey(privateKey).export({ format: "jwk" });
    return { privateKey, point: Buffer.from(x, "base64url") };
  }
}

const publicOf = (point: Buffer): KeyObject =>
  createPublicKey({ format: "jwk", key: { kty: "OKP", crv: "X25519", x: point.toString("base64url") } });
