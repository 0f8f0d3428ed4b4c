// Owns the fingerprint of a bench's answers: eight hexadecimal digits that change when any answer does.

/** FNV-1a of 32 bits over UTF-16 code units (G. Fowler, L. Noll, K.-P. Vo; offset basis and prime as they publish them). */
export function checksum(text: string): string {
  let hash = 0x811c9dc5;
  for (let index = 0; index < text.length; index += 1) hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193);
  return (hash >>> 0).toString(16).padStart(8, "0");
}
