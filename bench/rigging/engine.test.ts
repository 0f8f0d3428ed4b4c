import { expect, test } from "vitest";
import { compareWithEngine } from "./engine.ts";

test("a rigid-body engine comes to rest as the hanging is computed: attitude within 0.2°, tensions within 1 %", async () => {
  const comparison = await compareWithEngine(5, 1);
  expect(comparison.unsettled).toEqual([]);
  expect(comparison.degrees).toBeLessThan(0.2);
  expect(comparison.tension).toBeLessThan(0.01);
});
