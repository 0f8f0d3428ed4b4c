// Owns the local authority: a shop without an administrator makes its own once, and a certificate for the names of this machine whenever those change.

import "reflect-metadata";
import { webcrypto, X509Certificate } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { hostname, networkInterfaces } from "node:os";
import { join } from "node:path";
import * as x509 from "@peculiar/x509";

/** A certificate with its key, PEM. */
export interface Certificate {
  readonly cert: string;
  readonly key: string;
}

export interface Authority extends Certificate {
  /** Of the authority, PEM: what a tablet must trust. */
  readonly authority: string;
  /** SHA-256 of the authority's certificate, to compare by eye. */
  readonly fingerprint: string;
}

const DAY = 86_400_000;
/** Days that a certificate holds: browsers take none of more than 825 from an authority that a user has added (common practice, from memory). */
const HOLDS = 397;
const AUTHORITY_HOLDS = 3650;
/** Days before its end when it is made anew. */
const RENEW = 30;
const KEYS = { name: "ECDSA", namedCurve: "P-256", hash: "SHA-256" } as const;

/** Names and addresses by which this machine may be reached. */
export const namesOfMachine = (): readonly string[] => [
  ...new Set([
    "localhost",
    "127.0.0.1",
    "::1",
    hostname(),
    `${hostname().split(".")[0]}.local`,
    ...Object.values(networkInterfaces()).flatMap((list) =>
      (list ?? []).filter(({ internal, scopeid }) => !internal && !scopeid).map(({ address }) => address),
    ),
  ]),
];

/**
 * The authority of a folder and a certificate of it for these names; both are made where there are none, the certificate also where it is about to end
 * or does not have all the names. Keys are for their owner's eyes alone.
 *
 * @param now milliseconds since 1970
 */
export const localAuthority = async (folder: string, names: readonly string[], now: number): Promise<Authority> => {
  x509.cryptoProvider.set(crypto);
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const root = readPair(folder, "authority") ?? keep(folder, "authority", await makeRoot(now));
  const rootCertificate = new X509Certificate(root.cert);
  const there = readPair(folder, "server");
  const serves =
    there !== undefined && covers(new X509Certificate(there.cert), names, now) && issued(there.cert, rootCertificate);
  const own = serves ? there : keep(folder, "server", await makeLeaf(root, names, now));
  return { ...own, authority: root.cert, fingerprint: rootCertificate.fingerprint256 };
};

const issued = (cert: string, root: X509Certificate): boolean => new X509Certificate(cert).verify(root.publicKey);

const covers = (certificate: X509Certificate, names: readonly string[], now: number): boolean =>
  Date.parse(certificate.validTo) > now + RENEW * DAY &&
  names.every((name) => certificate.checkHost(name) !== undefined || certificate.checkIP(name) !== undefined);

const makeRoot = async (now: number): Promise<Certificate> => {
  const keys = await webcrypto.subtle.generateKey(KEYS, true, ["sign", "verify"]);
  const certificate = await x509.X509CertificateGenerator.createSelfSigned({
    serialNumber: serial(),
    name: `CN=Unmoor at ${hostname()}`,
    notBefore: new Date(now - DAY),
    notAfter: new Date(now + AUTHORITY_HOLDS * DAY),
    signingAlgorithm: KEYS,
    keys: keys,
    extensions: [
      new x509.BasicConstraintsExtension(true, 0, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.keyCertSign | x509.KeyUsageFlags.cRLSign, true),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
    ],
  });
  return { cert: certificate.toString("pem"), key: await exportKey(keys.privateKey) };
};

const makeLeaf = async (root: Certificate, names: readonly string[], now: number): Promise<Certificate> => {
  const issuer = new x509.X509Certificate(root.cert);
  const signingKey = await webcrypto.subtle.importKey("pkcs8", pemBytes(root.key), KEYS, false, ["sign"]);
  const keys = await webcrypto.subtle.generateKey(KEYS, true, ["sign", "verify"]);
  const certificate = await x509.X509CertificateGenerator.create({
    serialNumber: serial(),
    subject: `CN=${hostname()}`,
    issuer: issuer.subject,
    notBefore: new Date(now - DAY),
    notAfter: new Date(now + HOLDS * DAY),
    signingAlgorithm: KEYS,
    publicKey: keys.publicKey,
    signingKey: signingKey,
    extensions: [
      new x509.BasicConstraintsExtension(false, undefined, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.digitalSignature, true),
      new x509.ExtendedKeyUsageExtension([x509.ExtendedKeyUsage.serverAuth]),
      new x509.SubjectAlternativeNameExtension(
        names.map((name) => ({ type: /^[\d.]+$|:/.test(name) ? ("ip" as const) : ("dns" as const), value: name })),
      ),
      await x509.AuthorityKeyIdentifierExtension.create(issuer),
    ],
  });
  return { cert: certificate.toString("pem"), key: await exportKey(keys.privateKey) };
};

const serial = (): string => Buffer.from(webcrypto.getRandomValues(new Uint8Array(15))).toString("hex");

const exportKey = async (key: webcrypto.CryptoKey): Promise<string> =>
  x509.PemConverter.encode(await webcrypto.subtle.exportKey("pkcs8", key), "PRIVATE KEY");

const pemBytes = (pem: string): ArrayBuffer => x509.PemConverter.decode(pem)[0] ?? new ArrayBuffer(0);

const readPair = (folder: string, name: string): Certificate | undefined => {
  const [cert, key] = [join(folder, `${name}.crt`), join(folder, `${name}.key`)];
  return existsSync(cert) && existsSync(key)
    ? { cert: readFileSync(cert, "utf8"), key: readFileSync(key, "utf8") }
    : undefined;
};

const keep = (folder: string, name: string, pair: Certificate): Certificate => {
  writeFileSync(join(folder, `${name}.key`), pair.key, { mode: 0o600 });
  writeFileSync(join(folder, `${name}.crt`), pair.cert);
  return pair;
};
