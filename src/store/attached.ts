// Owns which bytes are taken for a photo or a spoken note: told by how they begin, not by what somebody calls them, and no larger than the limit.
import { createHash } from "node:crypto";
import { type Photo, StoreFault, type Voice } from "./store.ts";

const MEGA = 1024 * 1024;
/** Bytes of the largest photo kept: twice what a tablet's camera makes. */
const LARGEST_PHOTO = 12 * MEGA;
/** Bytes of the longest spoken note kept: a minute as any tablet of today records it. */
const LARGEST_VOICE = 1 * MEGA;

/** The photo with its digest and type. @throws StoreFault "photo" */
export function readPhoto(bytes: Uint8Array): Photo {
  small("photo", bytes, LARGEST_PHOTO, "Take it with fewer pixels.");
  const type = photoType(bytes);
  if (type === undefined)
    throw new StoreFault("photo", "photo", "the bytes are no JPEG, PNG or WebP", "Keep it as one of these.");
  return { digest: digestOf(bytes), type, bytes };
}

/** The spoken note with its digest and type. @throws StoreFault "voice" */
export function readVoice(bytes: Uint8Array): Voice {
  small("voice", bytes, LARGEST_VOICE, "Say it shorter, or in two notes.");
  const type = voiceType(bytes);
  if (type === undefined)
    throw new StoreFault("voice", "voice", "the bytes are no WebM, Ogg or MP4 of sound", "Keep it as one of these.");
  return { digest: digestOf(bytes), type, bytes };
}

const digestOf = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

const small = (kind: "photo" | "voice", { length }: Uint8Array, largest: number, mend: string): void => {
  const mega = (size: number) => `${(size / MEGA).toFixed(1)} MB`;
  if (length > largest) throw new StoreFault(kind, kind, `${mega(length)}, more than ${mega(largest)}`, mend);
};

const begins = (bytes: Uint8Array, at: number, ...signs: readonly number[]): boolean =>
  signs.every((sign, i) => bytes[at + i] === sign);

const says = (bytes: Uint8Array, at: number, word: string): boolean =>
  begins(bytes, at, ...[...word].map((letter) => letter.charCodeAt(0)));

/** By the first bytes: JPEG (ISO/IEC 10918-1), PNG (W3C, section 5.2), WebP (RFC 9649). */
function photoType(bytes: Uint8Array): Photo["type"] | undefined {
  if (begins(bytes, 0, 0xff, 0xd8, 0xff)) return "image/jpeg";
  if (begins(bytes, 0, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return "image/png";
  if (says(bytes, 0, "RIFF") && says(bytes, 8, "WEBP")) return "image/webp";
  return undefined;
}

/** Bytes of an EBML head within which its document's type stands. */
const HEAD = 64;

/**
 * By the first bytes: EBML whose document is WebM (RFC 8794), Opus in Ogg (RFC 3533, RFC 7845), the base format of ISO media (ISO/IEC 14496-12).
 * A container may hold pictures beside the sound; it is given out as sound alone.
 */
function voiceType(bytes: Uint8Array): Voice["type"] | undefined {
  if (begins(bytes, 0, 0x1a, 0x45, 0xdf, 0xa3))
    return Buffer.from(bytes.subarray(0, HEAD)).includes("webm") ? "audio/webm" : undefined;
  if (says(bytes, 0, "OggS") && says(bytes, 28, "OpusHead")) return "audio/ogg";
  if (says(bytes, 4, "ftyp")) return "audio/mp4";
  return undefined;
}
