// Owns which bytes are taken for a photo: told by how they begin, not by what somebody calls them, and no larger than the limit.
import { createHash } from "node:crypto";
import { type Photo, type PhotoType, StoreFault } from "./store.ts";

/** Bytes of the largest photo kept: twice what a tablet's camera makes. */
const LARGEST_PHOTO = 12 * 1024 * 1024;

/** The photo with its digest and type. @throws StoreFault "photo" */
export function readPhoto(bytes: Uint8Array): Photo {
  const mega = (size: number) => `${(size / 1024 / 1024).toFixed(1)} MB`;
  if (bytes.length > LARGEST_PHOTO) {
    const what = `${mega(bytes.length)}, more than ${mega(LARGEST_PHOTO)}`;
    throw new StoreFault("photo", "photo", what, "Take it with fewer pixels.");
  }
  const type = typeOf(bytes);
  if (type === undefined)
    throw new StoreFault("photo", "photo", "the bytes are no JPEG, PNG or WebP", "Keep it as one of these.");
  return { digest: createHash("sha256").update(bytes).digest("hex"), type, bytes };
}

/** By the first bytes: JPEG (ISO/IEC 10918-1), PNG (W3C, section 5.2), WebP (RFC 9649). */
function typeOf(bytes: Uint8Array): PhotoType | undefined {
  const begins = (at: number, ...signs: readonly number[]) => signs.every((sign, i) => bytes[at + i] === sign);
  if (begins(0, 0xff, 0xd8, 0xff)) return "image/jpeg";
  if (begins(0, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return "image/png";
  if (begins(0, 0x52, 0x49, 0x46, 0x46) && begins(8, 0x57, 0x45, 0x42, 0x50)) return "image/webp";
  return undefined;
}
