// Owns the QR codes of a pack: the modules of a text, and their drawing as one path. Level Q: a quarter of a code may be folded or smeared away.

import QRCode from "qrcode";

export interface Code {
  /** Modules a side, without the quiet zone. */
  readonly side: number;
  readonly svg: string;
}

/** @param quiet modules of white about it; ISO/IEC 18004 asks for four. */
export function codeOf(text: string, quiet: number): Code {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: "Q" });
  const { size } = modules;
  const parts: string[] = [];
  for (let row = 0; row < size; row += 1)
    for (let from = 0; from < size; ) {
      if (!modules.get(row, from)) {
        from += 1;
        continue;
      }
      let to = from;
      while (to < size && modules.get(row, to)) to += 1;
      parts.push(`M${from + quiet} ${row + quiet}h${to - from}v1h-${to - from}z`);
      from = to;
    }
  const whole = size + 2 * quiet;
  return {
    side: size,
    svg: `<svg xmlns="http://www.w3.org/2000/svg" width="${whole}" height="${whole}" viewBox="0 0 ${whole} ${whole}"><path d="${parts.join("")}"/></svg>`,
  };
}
