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

/** What stops its own process as Ctrl-C does, or ends with browsers and databases: each file has a process of its own. */
const ALONE = ["test/**/*.test.ts", "src/cli/{background,serve}.test.ts", "src/server/{browser,faults}.test.ts"];

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
      // What is tested is loaded once for many files.
      {
        extends: true,
        test: { name: "shared", include: ["src/**/*.test.ts", "bench/**/*.test.ts"], exclude: ALONE, isolate: false },
      },
      { extends: true, test: { name: "alone", include: ALONE } },
    ],
    sequence: { sequencer: LongFirst },
    // Many tests start processes, and a shared machine may be slow; what must be quick is measured by the benches.
    testTimeout: 120_000,
    hookTimeout: 240_000,
    // One more than cores: some tests wait for a server, a database or a browser, and vitest itself has little to do.
    maxWorkers: availableParallelism() + 1,
  },
});
