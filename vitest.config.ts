import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["src/**/*.test.ts", "bench/**/*.test.ts", "test/**/*.test.ts"],
    // Many tests start processes, and a shared machine may be slow; what must be quick is measured by the benches.
    testTimeout: 60_000,
  },
});
