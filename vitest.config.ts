import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** The longest, which begin first: where one of them began last, the others would be over long before it. */
const LONG = [
  "test/whole-job",
  "test/whole-hand",
  "test/in-hand",
  "test/screens",
  "src/cli/main",
  "src/server/faults",
  "src/cli/serve",
  "questions/fleet",
];

/** The tests of the rooms that use nothing of Node or of the browser, and of the screens' own reckoning. */
const PURE = ["quantity", "vehicle", "release", "crew", "rigging", "fastening", "times", "plan", "ledger", "web"].map(
  (room) => `src/${room}/**/*.test.ts`,
);

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
    projects: [
      // What keeps nothing outside its own values is loaded once for many files.
      { extends: true, test: { name: "pure", include: PURE, isolate: false } },
      {
        extends: true,
        test: {
          name: "whole",
          include: ["src/**/*.test.ts", "bench/**/*.test.ts", "test/**/*.test.ts"],
          exclude: PURE,
        },
      },
    ],
    sequence: { sequencer: LongFirst },
    // Many tests start processes, and a shared machine may be slow; what must be quick is measured by the benches.
    testTimeout: 120_000,
    hookTimeout: 240_000,
    // One more than cores: some tests wait for a server, a database or a browser, and vitest itself has little to do.
    maxWorkers: availableParallelism() + 1,
  },
});
