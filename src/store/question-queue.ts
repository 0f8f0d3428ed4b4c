// Owns how questions go into the queue that PostgreSQL's workers take from (graphile-worker's own functions), in the transaction that has them wait.
import { sql } from "kysely";
import type { Database } from "./tables.ts";

/** What the queue calls a question. */
export const QUEUE_TASK = "question";
/** The queue's own count of attempts is not ours: a question that is put back by a worker that stops has lost none. */
const MOST = 1_000;

/** One job for a question: one that no worker has begun is the same job, beside one that is under way it is another. */
export async function enqueue(tx: Database, digest: string, rank: number): Promise<void> {
  await sql`
    select graphile_worker.add_job(${QUEUE_TASK}, json_build_object('digest', ${digest}::text), job_key => ${digest},
      max_attempts => ${MOST}, priority => ${rank}, job_key_mode => 'replace')`.execute(tx);
}

export async function dequeue(tx: Database, digest: string): Promise<void> {
  await sql`select graphile_worker.remove_job(${digest})`.execute(tx);
}
