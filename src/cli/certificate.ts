// Owns the certificate that a server is given: read from its files, looked at, and taken up where it is renewed while the server runs.

import { createPrivateKey, X509Certificate } from "node:crypto";
import { readFileSync } from "node:fs";
import type { Certificate } from "../server/index.ts";
import type { CallFault } from "./call.ts";

/** Milliseconds between two looks. Files are read, not watched: what renews them moves others into their place, by links or over a network. */
const EVERY = 60_000;

/** @param cert PEM file. @param key PEM file, without a password */
export function readCertificate(cert: string, key: string): Certificate | CallFault {
  try {
    const pair = { cert: readFileSync(cert, "utf8"), key: readFileSync(key, "utf8") };
    const read = new X509Certificate(pair.cert);
    if (!read.checkPrivateKey(createPrivateKey(pair.key)))
      return { what: `${key} is not the key of ${cert}`, mend: "Give those that were made together." };
    return Date.parse(read.validTo) > Date.now()
      ? pair
      : { what: `${cert} held until ${read.validTo}`, mend: "Get it renewed, or use --https alone." };
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return {
      what: `${cert} with ${key} cannot be used (${why})`,
      mend: "Both are PEM files, the key without a password.",
    };
  }
}

interface Renewing {
  readonly first: Certificate;
  /** What there is now; where it cannot be used the one before is kept. */
  readonly look: () => Promise<Certificate | CallFault> | Certificate | CallFault;
  readonly take: (certificate: Certificate) => void;
  readonly log: (line: Readonly<Record<string, unknown>>) => void;
  readonly every?: number;
}

/** Looks again and again, and takes up what is another than before. @returns ends it */
export const keepRenewed = ({ first, look, take, log, every = EVERY }: Renewing): (() => void) => {
  let current = first.cert;
  let told: string | undefined;
  const again = async (): Promise<void> => {
    const found = await look();
    if ("what" in found) throw new Error(`${found.what}. ${found.mend}`);
    told = undefined;
    if (found.cert === current) return;
    take(found);
    current = found.cert;
    log({ at: new Date().toISOString(), certificate: "renewed", until: new X509Certificate(found.cert).validTo });
  };
  const timer = setInterval(() => {
    again().catch((error: unknown) => {
      // While two files are written they do not fit together; what stays wrong is said once.
      const fault = String(error);
      if (fault !== told) log({ at: new Date().toISOString(), fault });
      told = fault;
    });
  }, every).unref();
  return () => clearInterval(timer);
};
