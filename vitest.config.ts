import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** The longest, which begin first: where one of them began last, the others would be over long before it. */
const LONG = [
  "test/whole-job",
  "test/screens",
  "src/cli/main",
  "src/server/faults",
  "src/cli/serve",
  "questions/fleet",
];

class LongFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification) => {
      const at = LONG.findIndex((name) => moduleId.includes(name));
      return at < 0 ? LONG.length : at;
    };
    return (await super.sort(files)).toSorted((a, b) => place(a) - place(b));
  }
}

export default defineConfig({
  test: {
    globalSetup: "test/bundle.ts",
    include: ["src/**/*.test.ts", "bench/**/*.test.ts", "test/**/*.test.ts"],
    sequence: { sequencer: LongFirst },
    // Many tests start processes, and a shared machine may be slow; what must be quick is measured by the benches.
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // One more than cores: some tests wait for a server, a database or a browser, and vitest itself has little to do.
    maxWorkers: availableParallelism() + 1,
  },
});
