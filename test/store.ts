// Owns what every store must do, whatever it stands on: one suite, run on each.
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gunzipSync, gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type FaultCode, type NewEntry, restoreInto, type Store, writeBackup } from "../src/store/index.ts";
import { openShopRun } from "./shop.ts";

const PNG = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==",
  "base64",
);

const entry = (id: string, text = `{"id":"${id}"}`): NewEntry => ({ id, device: "tablet-1", text });

/** Runs the suite on stores that `makeEmpty` opens, each new and empty. */
export function acceptStore(kind: string, makeEmpty: () => Promise<Store>): void {
  describe(kind, () => {
    let folder: string;
    let store: Store;
    let names = 0;
    const name = (what: string) => `${what}-${++names}`;

    beforeAll(async () => {
      folder = await mkdtemp(join(tmpdir(), "unmoor-store-"));
      store = await makeEmpty();
    });
    afterAll(async () => {
      await store.close();
      await rm(folder, { recursive: true, force: true });
    });

    const refused = (work: Promise<unknown>, code: FaultCode) =>
      expect(work).rejects.toMatchObject({ name: "StoreFault", code });

    const openRun = () => openShopRun(store, name("run"));

    test("a vehicle's files come back letter for letter, and the same files are the same version", async () => {
      const vehicle = name("vehicle");
      const files = [
        { path: "a.yaml", text: "vehicle: ä\n\t# 線 \u{1f527}\r\n" },
        { path: "axles.yaml", text: "" },
      ];
      const first = await store.saveVehicle(vehicle, files, 10, "ada");
      expect(first).toMatchObject({ vehicle, version: 1, files, at: 10, by: "ada" });
      expect(await store.saveVehicle(vehicle, files, 20, "ben")).toEqual(first);
      const second = await store.saveVehicle(vehicle, [{ path: "a.yaml", text: "vehicle: b" }], 30, "ben");
      expect(second.version).toBe(2);
      expect(await store.vehicle(vehicle)).toEqual(second);
      expect(await store.vehicle(vehicle, 1)).toEqual(first);
      expect(await store.vehicle(vehicle, 3)).toBeUndefined();
      const { files: _, ...told } = second;
      expect((await store.vehicles()).filter((one) => one.vehicle === vehicle)).toEqual([told]);
    });

    test("a record is changed only by who read it as it is", async () => {
      const id = name("person");
      const person = { id, name: "Ada", roles: ["verifier"], skills: ["fuel"], body: { shift: null } };
      expect(await store.savePerson(person, 0)).toEqual({ revision: 1, value: person });
      const renamed = { ...person, name: "Ada B." };
      expect(await store.savePerson(renamed, 1)).toEqual({ revision: 2, value: renamed });
      await refused(store.savePerson(person, 1), "stale");
      await refused(store.savePerson(person, 0), "stale");
      expect(await store.person(id)).toEqual({ revision: 2, value: renamed });
      expect(await store.people()).toContainEqual({ revision: 2, value: renamed });
    });

    test("who got no answer asks again and finds it done", async () => {
      const machine = { id: name("serial"), vehicle: "v", body: { found: ["a longer bolt"] } };
      await store.saveMachine(machine, 0);
      expect(await store.saveMachine(machine, 0)).toEqual({ revision: 1, value: machine });
      expect(await store.machine(machine.id)).toEqual({ revision: 1, value: machine });
      const run = await openRun();
      const again = { id: run.id, order: run.order, plan: run.plan, at: 99, by: "ada" };
      expect(await store.openRun(again)).toEqual(run);
      await store.savePlan({ id: run.plan, order: run.order, body: { steps: ["a", "b"] }, at: 99 });
      await refused(store.savePlan({ id: run.plan, order: run.order, body: {}, at: 3 }), "clash");
    });

    test("a run is pinned to the version its order was planned on", async () => {
      const run = await openRun();
      await store.saveVehicle(run.vehicle, [{ path: "a.yaml", text: "vehicle: changed" }], 9, "ben");
      expect(await store.run(run.id)).toEqual(run);
      expect(run).toMatchObject({ version: 1, opened: 4, by: "ada", closed: undefined, length: 0 });
      expect((await store.closeRun(run.id, 50)).closed).toBe(50);
    });

    test("nothing refers to what is not there", async () => {
      const order = {
        id: name("order"),
        site: "main",
        vehicle: "none",
        version: 1,
        jobs: [],
        body: {},
        at: 1,
        by: "ada",
      };
      await refused(store.saveOrder({ ...order, machine: undefined }, 0), "unknown");
      await refused(store.savePlan({ id: name("plan"), order: "none", body: {}, at: 1 }), "unknown");
      await refused(store.openRun({ id: name("run"), order: "none", plan: "none", at: 1, by: "ada" }), "unknown");
      await refused(store.closeRun("none", 1), "unknown");
      await refused(store.append("none", [entry(name("entry"))]), "unknown");
      const run = await openRun();
      const kept = await store.order(run.order);
      const moved = { ...kept!.value, machine: "none" };
      await refused(store.saveOrder(moved, kept!.revision), "unknown");
    });

    test("lists come by pages, in the order of their ids, each item once", async () => {
      for (let i = 0; i < 5; i++) await openRun();
      for (const list of [store.orders, store.runs]) {
        const seen: string[] = [];
        let after: string | undefined;
        do {
          const page: Awaited<ReturnType<typeof list>> = await list(2, after);
          expect(page.items.length).toBeLessThanOrEqual(2);
          seen.push(...page.items.map((item) => ("value" in item ? item.value.id : item.id)));
          after = page.next;
        } while (after !== undefined);
        expect(new Set(seen).size).toBe(seen.length);
        expect(seen.length).toBeGreaterThanOrEqual(5);
      }
    });

    test("entries stand in the order in which they were acknowledged, without gap", async () => {
      const { id: run } = await openRun();
      const [a, b, c] = [entry(name("e"), '{"note":"ä 線 \\u0000"}'), entry(name("e")), entry(name("e"))];
      expect(await store.append(run, [a, b])).toEqual([1, 2]);
      expect(await store.append(run, [c])).toEqual([3]);
      expect(await store.entries(run, 0, 10)).toEqual([
        { ...a, position: 1 },
        { ...b, position: 2 },
        { ...c, position: 3 },
      ]);
      expect(await store.entries(run, 1, 1)).toEqual([{ ...b, position: 2 }]);
      expect((await store.run(run))?.length).toBe(3);
      expect(await store.append(run, [])).toEqual([]);
    });

    test("what was judged on what is no more the last is refused, unless it is there already", async () => {
      const { id: run } = await openRun();
      const [a, b, c] = [entry(name("e")), entry(name("e")), entry(name("e"))];
      expect(await store.append(run, [a], 0)).toEqual([1]);
      await refused(store.append(run, [b], 0), "stale");
      expect(await store.append(run, [b], 1)).toEqual([2]);
      expect(await store.append(run, [b], 1)).toEqual([2]);
      await refused(store.append(run, [b, c], 1), "stale");
      const outcomes = await Promise.allSettled([store.append(run, [c], 2), store.append(run, [entry(name("e"))], 2)]);
      expect(outcomes.map(({ status }) => status).sort()).toEqual(["fulfilled", "rejected"]);
      expect((await store.run(run))?.length).toBe(3);
    });

    test("who watches is told of every run that grew, until he watches no more", async () => {
      const { id: run } = await openRun();
      const told: (string | undefined)[] = [];
      const stop = await store.watch((grown) => told.push(grown));
      await store.append(run, [entry(name("e"))]);
      await expect.poll(() => told).toContain(run);
      stop();
      const heard = told.length;
      const again: (string | undefined)[] = [];
      const stopAgain = await store.watch((grown) => again.push(grown));
      await store.append(run, [entry(name("e"))]);
      await expect.poll(() => again).toContain(run);
      expect(told.length).toBe(heard);
      stopAgain();
    });

    test("lists are of some sites, or of all", async () => {
      const site = { id: name("site"), label: "The shed", body: {} };
      expect(await store.saveSite(site, 0)).toEqual({ revision: 1, value: site });
      expect((await store.site(site.id))?.value).toEqual(site);
      expect((await store.sites()).map(({ value }) => value)).toContainEqual(site);
      const run = await openRun();
      const order = (await store.order(run.order))?.value;
      const id = name("order");
      await store.saveOrder({ ...order!, id, site: site.id }, 0);
      await store.savePlan({ id: `${id}.p1`, order: id, body: {}, at: 1 });
      const there = await store.openRun({ id, order: id, plan: `${id}.p1`, at: 1, by: "ada" });
      expect(there.site).toBe(site.id);
      expect((await store.runs(10, undefined, [site.id])).items).toEqual([there]);
      expect((await store.orders(10, undefined, [site.id])).items.map(({ value }) => value.id)).toEqual([id]);
      expect((await store.runs(10, undefined, [])).items).toEqual([]);
    });

    test("the same entry sent again keeps its place; another under its id is refused, and nothing that came with it is kept", async () => {
      const { id: run } = await openRun();
      const { id: other } = await openRun();
      const [a, b, c] = [entry(name("e")), entry(name("e")), entry(name("e"))];
      await store.append(run, [a]);
      expect(await store.append(run, [b, a])).toEqual([2, 1]);
      expect(await store.append(run, [c, c])).toEqual([3, 3]);
      const fresh = entry(name("e"));
      await refused(store.append(run, [fresh, { ...a, text: "{}" }]), "clash");
      await refused(store.append(run, [fresh, { ...a, device: "tablet-2" }]), "clash");
      await refused(store.append(run, [fresh, { ...fresh, text: "{}" }]), "clash");
      await refused(store.append(other, [a]), "clash");
      await refused(store.append(run, [entry(name("e"), "\ud800")]), "clash");
      await refused(store.append(run, [entry(name("e"), "\0")]), "clash");
      expect(await store.entries(run, 0, 10)).toHaveLength(3);
    });

    test("fifty writers at once: each is answered with its own places, and one that is refused harms no other", async () => {
      const { id: run } = await openRun();
      const sent = Array.from({ length: 50 }, () => [entry(name("e")), entry(name("e"))]);
      const answers = await Promise.all([
        ...sent.map((entries) => store.append(run, entries)),
        store.append("none", [entry(name("e"))]).catch((fault: unknown) => fault),
      ]);
      expect(answers.at(-1)).toMatchObject({ code: "unknown" });
      const kept = await store.entries(run, 0, 1_000);
      expect(kept.map(({ position }) => position)).toEqual(Array.from({ length: 100 }, (_, i) => i + 1));
      sent.forEach((entries, i) => {
        const places = answers[i] as number[];
        expect(places.map((place) => kept[place - 1]?.id)).toEqual(entries.map(({ id }) => id));
      });
    });

    test("a long hour offline comes in at once: 5,000 entries in one append", async () => {
      const { id: run } = await openRun();
      const sent = Array.from({ length: 5_000 }, () => entry(name("e")));
      expect((await store.append(run, sent)).at(-1)).toBe(5_000);
      expect(await store.append(run, sent)).toHaveLength(5_000);
      expect((await store.run(run))?.length).toBe(5_000);
    });

    test("a photo is kept once under its digest, told by its bytes and limited in size", async () => {
      const kept = await store.savePhoto(PNG);
      expect(kept.type).toBe("image/png");
      expect(await store.savePhoto(PNG)).toEqual(kept);
      expect(await store.photo(kept.digest)).toEqual({ ...kept, bytes: new Uint8Array(PNG) });
      expect(await store.photo("00")).toBeUndefined();
      await refused(store.savePhoto(Buffer.from("<svg onload='…'>")), "photo");
      await refused(store.savePhoto(Buffer.concat([PNG, Buffer.alloc(12 * 1024 * 1024)])), "photo");
    });

    test("a spoken note is kept likewise; neither is given as the other", async () => {
      const webm = Buffer.from("1a45dfa39f4286810142f7810142f2810442f381084282847765626d", "hex");
      const ogg = Buffer.concat([Buffer.from("OggS"), Buffer.alloc(24), Buffer.from("OpusHead")]);
      const mp4 = Buffer.concat([Buffer.from("00000018", "hex"), Buffer.from("ftypM4A ")]);
      const kept = [await store.saveVoice(webm), await store.saveVoice(ogg), await store.saveVoice(mp4)];
      expect(kept.map(({ type }) => type)).toEqual(["audio/webm", "audio/ogg", "audio/mp4"]);
      const [{ digest } = { digest: "" }] = kept;
      expect(await store.voice(digest)).toEqual({ digest, type: "audio/webm", bytes: new Uint8Array(webm) });
      expect(await store.photo(digest)).toBeUndefined();
      expect(await store.voice((await store.savePhoto(PNG)).digest)).toBeUndefined();
      for (const none of [PNG, Buffer.from("1a45dfa39f4282886d6174726f736b61", "hex"), Buffer.from("<svg>")])
        await refused(store.saveVoice(none), "voice");
      await refused(store.saveVoice(Buffer.concat([webm, Buffer.alloc(1024 * 1024)])), "voice");
    });

    test("devices and what was learnt come back; the last learnt counts", async () => {
      const device = { id: name("device"), key: "ab".repeat(32), at: 5 };
      await store.saveDevice(device);
      await store.saveDevice({ ...device, at: 6 });
      expect(await store.device(device.id)).toEqual(device);
      await refused(store.saveDevice({ ...device, key: "cd".repeat(32) }), "clash");
      const vehicle = name("vehicle");
      await store.saveLearnt([
        { vehicle, key: "b", body: [1], at: 1 },
        { vehicle, key: "a", body: [2], at: 1 },
      ]);
      await store.saveLearnt([{ vehicle, key: "b", body: [3], at: 2 }]);
      expect(await store.learnt(vehicle)).toEqual([
        { vehicle, key: "a", body: [2], at: 1 },
        { vehicle, key: "b", body: [3], at: 2 },
      ]);
    });

    test("a backup made while others write holds one moment, and a new store restored from it gives the same backup", async () => {
      const { id: run } = await openRun();
      let stop = false;
      const writing = (async () => {
        while (!stop) {
          await store.append(run, [entry(name("e"))]);
          await new Promise((resolve) => setTimeout(resolve, 1));
        }
      })();
      const path = join(folder, `${name("backup")}.gz`);
      const told = await writeBackup(store, path);
      stop = true;
      await writing;
      const other = await makeEmpty();
      try {
        expect(await restoreInto(other, path)).toEqual(told);
        const kept = await other.entries(run, 0, 100_000);
        expect(kept).toEqual((await store.entries(run, 0, 100_000)).slice(0, kept.length));
        expect((await other.run(run))?.length).toBe(kept.length);
        expect(await other.examine()).toEqual([]);
        await refused(restoreInto(other, path), "not-empty");
      } finally {
        await other.close();
      }
    });

    test("a backup that was changed, cut short or made by another version is refused, and nothing of it is taken in", async () => {
      await openRun();
      const path = join(folder, `${name("backup")}.gz`);
      await writeBackup(store, path);
      const lines = gunzipSync(await readFile(path))
        .toString("utf8")
        .split("\n");
      const other = await makeEmpty();
      const attempt = async (changed: string | Buffer) => {
        await writeFile(path, typeof changed === "string" ? gzipSync(changed) : changed);
        return restoreInto(other, path);
      };
      try {
        await refused(attempt(lines.join("\n").replace('"ada"', '"eve"')), "damaged");
        await refused(attempt(lines.slice(0, -2).join("\n")), "damaged");
        await refused(attempt(gzipSync(lines.join("\n")).subarray(0, -40)), "damaged");
        await refused(attempt("{}"), "newer");
        await refused(attempt("no backup"), "damaged");
        await refused(attempt(Buffer.from("not even compressed")), "damaged");
        await refused(restoreInto(other, join(folder, "none")), "unknown");
        expect(await other.vehicles()).toEqual([]);
      } finally {
        await other.close();
      }
    });
  });
}
