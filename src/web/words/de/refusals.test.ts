// Every sentence by which the server's door refuses has its German.
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { germanRefusal } from "./refusals.ts";

const folder = new URL("../../../server/people/", import.meta.url);

/** What only a program that calls the routes itself can come to. */
const OF_PROGRAMS =
  /program|Send it again|If-Match|`|another page|second person|signed in himself|tablet is of another|Confirm it|which page|own page|on the device itself|what is changed|start PIN`|signs in once|Name one of|list of sites|foreman of no site|Ask for your own/;

test("what the door says to a person is said in German too", () => {
  const said = readdirSync(folder)
    .filter((name) => name.endsWith(".ts") && !name.endsWith(".test.ts"))
    .flatMap((name) => [
      ...readFileSync(new URL(name, folder), "utf8").matchAll(
        /(?:forbidden|badRequest|notFound|new Problem)\(\s*(?:\d+,\s*"[\w-]+",\s*)?("[^"]+"|`[^`]+`),\s*("[^"]+"|`[^`]+`)/g,
      ),
    ])
    .flatMap(([, what = "", mend = ""]) => [what, mend])
    .map((text) =>
      text
        .slice(1, -1)
        .replaceAll(/\$\{said\}/g, "PIN")
        .replaceAll(/\$\{[^}]*\}/g, "12"),
    );
  expect(said.length).toBeGreaterThan(60);
  expect(said.filter((text) => !OF_PROGRAMS.test(text) && germanRefusal(text) === text)).toEqual([]);
});
