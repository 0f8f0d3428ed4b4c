// A certificate that is renewed in its files while the server runs is shown to whoever connects afterwards; a pair that does not fit together is not.
import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { connect } from "node:tls";
import { pathToFileURL } from "node:url";
import { expect, inject, test } from "vitest";
import { serveShop, temporaryFolder } from "../../test/serving.ts";
import { loadAuthority } from "../server/index.ts";
import { keepRenewed, readCertificate } from "./certificate.ts";

/** The serial number of the certificate that is shown, and the connection, left open. */
const shown = (port: number) =>
  new Promise<{ readonly serial: string; readonly socket: ReturnType<typeof connect> }>((resolve, reject) => {
    const socket = connect({ port, host: "127.0.0.1", rejectUnauthorized: false }, () =>
      resolve({ serial: socket.getPeerX509Certificate()?.serialNumber ?? "", socket }),
    );
    socket.once("error", reject);
  });

test("renewed files are taken up without a restart, and a key that is not the certificate's is not", async () => {
  const folder = await temporaryFolder("renewed");
  const { localAuthority } = await loadAuthority();
  const [before, after] = [
    await localAuthority(join(folder.path, "a"), ["127.0.0.1"], Date.now()),
    await localAuthority(join(folder.path, "b"), ["127.0.0.1"], Date.now()),
  ];
  const [cert, key] = [join(folder.path, "server.crt"), join(folder.path, "server.key")];
  const put = (pair: { readonly cert: string; readonly key: string }) => {
    writeFileSync(cert, pair.cert);
    writeFileSync(key, pair.key);
  };
  put(before);
  const serving = await serveShop(pathToFileURL(join(dirname(inject("bundle")), "question-thread.js")), {
    shop: join(folder.path, "shop.db"),
    certificate: before,
  });
  const lines: Readonly<Record<string, unknown>>[] = [];
  const end = keepRenewed({
    first: before,
    look: () => readCertificate(cert, key),
    take: serving.renew,
    log: (line) => lines.push(line),
    every: 20,
  });
  try {
    const first = await shown(serving.port);
    put({ cert: after.cert, key: before.key });
    await expect.poll(() => lines.length).toBe(1);
    expect(String(lines[0]?.fault)).toContain(`${key} is not the key of ${cert}`);
    const still = await shown(serving.port);
    expect(still.serial).toBe(first.serial);
    put(after);
    await expect.poll(() => lines.length).toBe(2);
    expect(lines[1]).toMatchObject({ certificate: "renewed" });
    const renewed = await shown(serving.port);
    expect(renewed.serial).not.toBe(first.serial);
    expect(first.socket.destroyed).toBe(false);
    for (const { socket } of [first, still, renewed]) socket.destroy();
  } finally {
    end();
    await serving.stop();
    await folder.remove();
  }
});
