import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    globalSetup: "test/bundle.ts",
    include: ["src/**/*.test.ts", "bench/**/*.test.ts", "test/**/*.test.ts"],
    // Many tests start processes, and a shared machine may be slow; what must be quick is measured by the benches.
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // One more than cores: some tests wait for a server, a database or a browser, and vitest itself has little to do.
    maxWorkers: availableParallelism() + 1,
  },
});
