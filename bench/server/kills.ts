// Owns the trial of killing: four servers and two workers on one database, any of them killed at any time under clients that go on by themselves.
import { setTimeout as pause } from "node:timers/promises";
import { v7 } from "uuid";
import { startPostgres } from "../../test/postgres.ts";
import { chanceOf } from "../../test/run.ts";
import { beginRun, Client, type Reply, setUp } from "../../test/serving.ts";
import { bundleTool, type Process, startServer, startTool } from "./process.ts";

export interface KillsRow {
  readonly kills: number;
  readonly seconds: number;
  readonly acknowledged: number;
  readonly lost: number;
  readonly twice: number;
  readonly questions: number;
  readonly unanswered: number;
  /** Questions that were answered, and later otherwise. */
  readonly changed: number;
  /** Events that a follower got out of order, twice or not at all. */
  readonly gaps: number;
  /** Seconds that the longest wait of a client took until it was acknowledged. */
  readonly longest: number;
}

const SERVERS = 4;
const WORKERS = 2;
const WRITERS = 12;
const PORT = 18_430;
const RUN = "pump-1";

export async function killAnything(kills: number): Promise<KillsRow> {
  const chance = chanceOf(20_261_126);
  const tool = await bundleTool();
  const postgres = await startPostgres();
  const database = await postgres.makeDatabase();
  const starts = [
    ...Array.from(
      { length: SERVERS },
      (_, i) => () => startServer(tool.entry, PORT + i, ["--database", database, "--no-work"]),
    ),
    ...Array.from(
      { length: WORKERS },
      () => () => startTool(tool.entry, ["work", "--database", database, "--threads", "1"], /computes what/),
    ),
  ];
  const processes: Process[] = [];
  try {
    for (const start of starts) processes.push(await start());
    const code = /set-up: (\S+)/.exec(processes[0]?.said ?? "")?.[1] ?? "";
    const people = await setUp(`http://127.0.0.1:${PORT}`, code);
    await beginRun(people.frida as Client, RUN);
    const trial = new Trial((people.emil as Client).token ?? "");
    const going = Promise.all([
      ...Array.from({ length: WRITERS }, (_, i) => trial.write(i)),
      trial.follow(),
      trial.ask(),
    ]);
    const begin = performance.now();
    for (let killed = 0; killed < kills; killed++) {
      await pause(50 + chance() * 400);
      const which = Math.floor(chance() * starts.length);
      await processes[which]?.kill("SIGKILL");
      processes[which] = (await starts[which]?.()) as Process;
    }
    const seconds = (performance.now() - begin) / 1000;
    trial.over = true;
    await going;
    return { kills, seconds: Math.round(seconds), ...(await trial.count()) };
  } finally {
    for (const one of processes) await one.kill("SIGKILL");
    await postgres.stop();
    await tool.remove();
  }
}

/** Clients that know all servers, and ask the next where one does not answer. */
class Trial {
  over = false;
  private readonly clients: readonly Client[];
  private readonly acknowledged: string[] = [];
  private readonly answers = new Map<string, string>();
  private readonly positions: number[] = [];
  private longest = 0;

  constructor(token: string) {
    this.clients = Array.from({ length: SERVERS }, (_, i) => new Client(`http://127.0.0.1:${PORT + i}`, token));
  }

  async write(first: number): Promise<void> {
    while (!this.over) {
      const id = v7();
      const entry = { entries: [{ id, say: { kind: "note", text: "whoever is killed" } }] };
      const begin = performance.now();
      await this.insist(first, "POST", `/runs/${RUN}/entries`, entry);
      this.longest = Math.max(this.longest, (performance.now() - begin) / 1000);
      this.acknowledged.push(id);
      await pause(20);
    }
  }

  /** Asks one question after another, each new, and waits for its answer. */
  async ask(): Promise<void> {
    for (let seed = 1; !this.over; seed++) {
      const body = { order: { jobs: ["shaft-seal"] }, crew: 2, seconds: 1, seed };
      const asked = await this.insist(seed, "POST", "/questions", {
        kind: "schedule",
        model: { vehicle: "bench-pump" },
        body,
      });
      const { digest } = asked.body;
      this.answers.set(digest, "");
      this.answers.set(digest, await this.answerOf(digest, seed));
    }
  }

  async follow(): Promise<void> {
    for (let turn = 0; !this.over; turn++) {
      const client = this.clients[turn % SERVERS] as Client;
      try {
        const behind = String(this.positions.at(-1) ?? 0);
        const stream = await client.follow(`/runs/${RUN}/live`, ({ id }) => this.positions.push(Number(id)), behind);
        while (!this.over && (await Promise.race([stream.ended.then(() => "ended"), pause(200)])) !== "ended");
        stream.close();
      } catch {
        await pause(50);
      }
    }
  }

  async count() {
    const ids: string[] = [];
    for (let behind = 0; ; ) {
      const { body } = await this.insist(0, "GET", `/runs/${RUN}/entries?limit=5000&behind=${behind}`);
      for (const { text } of body.entries) ids.push(JSON.parse(text).id);
      if (body.next === undefined) break;
      behind = body.next;
    }
    const kept = new Set(ids);
    let unanswered = 0;
    let changed = 0;
    for (const [digest, answer] of this.answers) {
      const now = await this.answerOf(digest, 0);
      if (now === "") unanswered++;
      else if (answer !== "" && now !== answer) changed++;
    }
    return {
      acknowledged: this.acknowledged.length,
      lost: this.acknowledged.filter((id) => !kept.has(id)).length,
      twice: ids.length - kept.size,
      questions: this.answers.size,
      unanswered,
      changed,
      gaps: this.positions.filter((position, i) => position !== i + 1).length,
      longest: Math.round(this.longest * 10) / 10,
    };
  }

  /** What a question is answered with; waited for a minute at most. */
  private async answerOf(digest: string, first: number): Promise<string> {
    const end = performance.now() + 60_000;
    while (performance.now() < end) {
      const { body } = await this.insist(first, "GET", `/questions/${digest}?wait=2`);
      if (body.state === "answered") return JSON.stringify(body.answer);
      if (body.state === "failed") return "";
    }
    return "";
  }

  /** The same request until a server answers it; 503 says that it will, later. */
  private async insist(first: number, method: string, path: string, body?: unknown): Promise<Reply> {
    for (let turn = first; ; turn++) {
      const client = this.clients[turn % SERVERS] as Client;
      const reply = await client.ask(method, path, body).catch(() => undefined);
      if (reply !== undefined && reply.status < 300) return reply;
      if (reply !== undefined && reply.status < 500)
        throw new Error(`${path} is answered ${reply.status}: ${JSON.stringify(reply.body)}`);
      await pause(20);
    }
  }
}
