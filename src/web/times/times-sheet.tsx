// Owns the sheet of times: when the order is done by chance, what each connection takes, and what runs taught of it.

import { useModel } from "../shop/model.tsx";
import { AllJobsSection } from "./all-jobs-section.tsx";
import { FinishSection } from "./finish-section.tsx";
import { RunsSection } from "./runs-section.tsx";
import { SpansSection } from "./spans-section.tsx";
import { useRuns } from "./use-runs.ts";

export const TimesSheet = () => {
  const { vehicle } = useModel().reading;
  const runs = useRuns();
  if (vehicle === undefined) return null;
  return (
    <div class="times-sheet">
      <FinishSection taught={runs.taught} />
      <AllJobsSection vehicle={vehicle} taught={runs.taught} />
      <RunsSection runs={runs} />
      <SpansSection vehicle={vehicle} taught={runs.taught} />
    </div>
  );
};
