// fuzz: a packed job → the same files zipped otherwise, zips with bytes changed, and zips of something else.
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { unzipSync, type Zippable, zipSync } from "fflate";
import { appendSaid } from "../../../src/store/append-said.js";
import { createJob } from "../../../src/store/create-job.js";
import { PACK_CONTENTS, PACK_REPORT } from "../../../src/store/job-paths.js";
import { packJob } from "../../../src/store/pack-job.js";
import { unpackBytes } from "../../../src/store/unpack-job.js";
import type { Random } from "../../simulate/random.js";
import { CLOCK, DEVICE } from "../../unit/store/bench.js";
import type { FuzzInput, PreparedTarget, TargetEntry } from "../fuzz-target.js";
import { mutateBytes } from "../mutate-bytes.js";
import { BOARD } from "./json-samples.js";
import { memoryStorage } from "./memory-storage.js";

const NAMES = ["../x", "..\\x", "/x", "C:/x", "job/../../x", "job/a\u0000b", "__proto__", "job/__proto__/x", `job/${"n".repeat(300)}`, "job/\u202egnp.exe", "job/con.json", "job/lock", "job/.adding-1.x/owner.json", "job/boards/x.json", "job.json"]; // biome-ignore format: a list to be read across

/** Packs of jobs. */
export const packedJob: TargetEntry = {
  name: "pack",
  prepare: async (): Promise<PreparedTarget> => {
    const folder = await mkdtemp(join(tmpdir(), "faultglow-pack-"));
    const file = (name: string): string => join(folder, name);
    await writeFile(file("board.json"), JSON.stringify(BOARD));
    await createJob(file("job"), { ...DEVICE, boards: [file("board.json")] }, CLOCK);
    await appendSaid(file("job"), [{ type: "remark", text: "Übergabe 交接" }], CLOCK);
    await packJob(file("job"), file("job.zip"), CLOCK);
    const zip = await readFile(file("job.zip"));
    const entries = unzipSync(zip);
    // What a pack brings beside the job stays in the zip.
    const value = Object.entries(entries)
      .map(([name, bytes]) => [name.slice(name.indexOf("/") + 1), Buffer.from(bytes).toString("latin1")])
      .filter(([name]) => name !== PACK_CONTENTS && name !== PACK_REPORT);
    value.sort(([a], [b]) => (a! < b! ? -1 : 1));
    return {
      target: {
        name: "pack",
        make: (random) => makePack(random, zip, entries, value),
        read: async (bytes) => {
          const storage = memoryStorage();
          await unpackBytes(bytes, "given.zip", "/there/job", { ...CLOCK, storage: storage.storage });
          const outside = storage.names().filter((name) => !name.startsWith("/there/job/"));
          if (outside.length > 0) throw new Error(`files were left outside the job: ${outside.join(", ")}`);
          return storage
            .names()
            .map((name) => [
              name.slice("/there/job/".length),
              Buffer.from(storage.read(name)).toString("latin1"),
            ]);
        },
      },
      remove: () => rm(folder, { recursive: true }),
    };
  },
};

function makePack(
  random: Random,
  zip: Uint8Array,
  entries: Record<string, Uint8Array>,
  value: unknown,
): FuzzInput {
  switch (random.integer(0, 5)) {
    case 0: {
      // By hand: another order, another folder, another method.
      const top = random.pick(["", "kept/", "a b 二/"]);
      const names = Object.keys(entries).sort(() => random.sign());
      const again: Zippable = {};
      for (const name of names)
        again[top + name.slice(name.indexOf("/") + 1)] = [
          entries[name]!,
          { level: random.pick([0, 1, 6, 9] as const) },
        ];
      if (random.chance(0.3)) again[`${top}notes.txt`] = new Uint8Array(9);
      return { what: "zipped otherwise", bytes: zipSync(again), expected: { sort: "equal", value } };
    }
    case 1:
    case 2:
      return {
        what: "bytes changed",
        bytes: mutateBytes(random, zip),
        expected: { sort: "equal or refused", value },
      };
    case 3: {
      const bytes = Buffer.from(zip);
      // Offsets and sizes of the directory, which stands at the end.
      const at = bytes.length - random.integer(4, 300);
      bytes.writeUInt32LE(
        random.pick([0, 1, 22, 65535, 0x7fffffff, 0xffffffff, bytes.length, bytes.length - 22]),
        at,
      );
      return { what: "words of the directory changed", bytes, expected: { sort: "equal or refused", value } };
    }
    case 4: {
      const changed: Zippable = { ...entries };
      const name = random.pick(Object.keys(entries));
      changed[name] = mutateBytes(random, entries[name]!);
      const bytes = zipSync(changed, { level: 1 });
      return { what: "a file changed, zipped soundly", bytes, expected: { sort: "any" } };
    }
    default: {
      // fflate itself can't write __proto__: the name is put in afterwards, at the same length.
      const name = random.pick(NAMES).replaceAll("__proto__", "PPprotoPP");
      const bytes = Buffer.from(zipSync({ ...entries, [name]: new Uint8Array(9) }, { level: 1 }));
      for (let at = bytes.indexOf("PPprotoPP"); at >= 0; at = bytes.indexOf("PPprotoPP", at))
        bytes.write("__proto__", at);
      return { what: "a name that is none of a job", bytes, expected: { sort: "any" } };
    }
  }
}
