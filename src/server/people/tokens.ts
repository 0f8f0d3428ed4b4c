// Owns tokens: 256 random bits that whoever holds them shows, and the digest that alone is kept of them.

import { createHash, randomBytes } from "node:crypto";

/** A new token, base64url. */
export const newToken = (): string => randomBytes(32).toString("base64url");

/** SHA-256, hexadecimal. A token has 256 bits of chance, so nothing slower is called for: nobody goes through them. */
export const digestOf = (token: string): string => createHash("sha256").update(token).digest("hex");

/** A short name of something, not secret. */
export const newName = (kind: string): string => `${kind}-${randomBytes(6).toString("hex")}`;
