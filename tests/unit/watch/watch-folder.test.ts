// The watcher in a world of its own: a folder, a job and a clock in memory.
import { describe, expect, it } from "vitest";
import { type ErrorCode, ToolError } from "../../../src/core/errors.js";
import { watchFolder } from "../../../src/watch/watch-folder.js";
import { WATCH_DEFAULTS, type WatchEvent, type WatchOptions } from "../../../src/watch/watch-ports.js";
import type { JobRecord, ListedFile, Role } from "../../../src/watch/watched-frame.js";

const fault = (code: ErrorCode) => new ToolError(code, { problem: "it is bad", fix: "Mend it" });

/** Files have contents: "bad…" can't be read, "half…" neither, everything else is a frame of 64×48. */
class World {
  nowMs = 1_000_000;
  readonly files = new Map<string, { text: string; mtimeMs: number }>();
  readonly roles = new Map<string, Role>();
  readonly aside = new Set<string>();
  readonly log: string[] = [];
  readonly events: WatchEvent[] = [];
  readonly plans: { atMs: number; act: () => void }[] = [];
  reads = 0;
  unreadable = "bad";
  stopped = false;
  addFault: ErrorCode | null = null;
  listFault = false;
  asked: ((names: string) => Role | null) | null = null;
  onAdd: () => void = () => {};

  /** Write a file some seconds from the start. */
  write(seconds: number, name: string, text = `frame ${name}`): this {
    const atMs = 1_000_000 + seconds * 1000;
    this.plans.push({ atMs, act: () => this.files.set(name, { text, mtimeMs: atMs }) });
    return this;
  }
  at(seconds: number, act: () => void): this {
    this.plans.push({ atMs: 1_000_000 + seconds * 1000, act });
    return this;
  }
  /** Begin anew with the same folder and job, as after a crash. */
  async run(untilS: number, options: Partial<WatchOptions> = {}): Promise<this> {
    this.stopped = false;
    const end = 1_000_000 + untilS * 1000;
    this.happen();
    await watchFolder(
      {
        list: async () => {
          if (this.listFault) throw fault("E_WATCH_FOLDER");
          return [...this.files].map(
            ([name, { text, mtimeMs }]): ListedFile => ({
              path: `/in/${name}`,
              name,
              bytes: text.length,
              mtimeMs,
            }),
          );
        },
        read: async ({ name }) => {
          this.reads++;
          const text = this.files.get(name)!.text;
          if (text.startsWith(this.unreadable))
            return { sha256: `sha ${text}`, fault: fault("E_TEXT_MATRIX") };
          if (text.startsWith("unscaled")) return { sha256: `sha ${text}`, fault: fault("E_SCALE_NONE") };
          return { sha256: `sha ${text}`, width: text.includes("small") ? 32 : 64, height: 48 };
        },
        record: async (): Promise<JobRecord> => ({
          roles: new Map(this.roles),
          setAside: new Set(this.aside),
          createdMs: 1_000_000,
        }),
        add: async ({ baseline, powered }) => {
          this.onAdd();
          if (this.addFault !== null) throw fault(this.addFault);
          for (const { sha256 } of powered.frames) this.roles.set(sha256, "powered");
          for (const { sha256 } of baseline.frames) this.roles.set(sha256, "baseline");
          const names = (group: typeof baseline) => group.frames.map(({ name }) => name).join(" ");
          this.log.push(`${names(baseline)} → ${names(powered)}`);
        },
        setAside: async ({ name }, sha256) => {
          if (this.addFault !== null) throw fault(this.addFault);
          this.aside.add(sha256);
          this.log.push(`aside ${name}`);
        },
        ask:
          this.asked === null
            ? null
            : async (group) => this.asked!(group.frames.map(({ name }) => name).join(" ")),
        say: async (event) => void this.events.push(event),
        now: () => this.nowMs,
        pause: async (ms) => {
          this.nowMs += ms;
          this.happen();
          if (this.nowMs >= end) this.stopped = true;
        },
        isStopped: () => this.stopped,
      },
      { ...WATCH_DEFAULTS, ...options },
    );
    return this;
  }
  private happen(): void {
    for (const plan of [...this.plans]) {
      if (plan.atMs > this.nowMs) continue;
      plan.act();
      this.plans.splice(this.plans.indexOf(plan), 1);
    }
  }
  types(): string[] {
    return this.events.map((event) => event.type);
  }
}

describe("watchFolder", () => {
  it("makes an attempt of a baseline and a burst, when the burst has ended", async () => {
    const world = new World().write(1, "off-1.csv").write(2, "off-2.csv");
    world.write(20, "on-1.csv").write(21, "on-2.csv").write(24, "on-3.csv");
    await world.run(28);
    // The last frame came at 24 s: until 29 s it may go on.
    expect(world.log).toEqual([]);
    await world.run(34);
    expect(world.log).toEqual(["off-1.csv off-2.csv → on-1.csv on-2.csv on-3.csv"]);
    expect(world.events).toEqual([]);
  });

  it("takes one baseline for all powered groups until the next", async () => {
    const world = new World().write(1, "off-1.csv").write(10, "on-1.csv").write(30, "on-2.csv");
    world.write(50, "off-2.csv").write(60, "on-3.csv");
    await world.run(80);
    expect(world.log).toEqual(["off-1.csv → on-1.csv", "off-1.csv → on-2.csv", "off-2.csv → on-3.csv"]);
  });

  it("waits for a file that is written slowly", async () => {
    const world = new World().write(1, "off.csv").write(10, "on.csv", "half");
    for (let s = 11; s < 20; s++) world.write(s, "on.csv", "half of a frame".slice(0, s - 5));
    await world.write(20, "on.csv", "frame whole").run(40);
    expect(world.log).toEqual(["off.csv → on.csv"]);
    expect([...world.roles.keys()]).toContain("sha frame whole");
  });

  it("gives a file that can't be read its time, then sets it aside and goes on", async () => {
    const world = new World().write(1, "off.csv").write(10, "bad.csv", "bad").write(11, "on.csv");
    await world.run(19);
    expect(world.log).toEqual([]);
    await world.run(40);
    expect(world.log).toEqual(["aside bad.csv", "off.csv → on.csv"]);
    expect(world.types()).toEqual(["setAside"]);
  });

  it("takes a file that was mended after it was set aside, for it is another file", async () => {
    const world = new World()
      .write(1, "off.csv")
      .write(5, "on.csv", "bad")
      .write(40, "on.csv", "frame mended");
    await world.run(60);
    expect(world.log).toEqual(["aside on.csv", "off.csv → on.csv"]);
  });

  it("takes a file that was set aside when it can be read after all, as with other options", async () => {
    const world = new World().write(1, "off.csv").write(5, "on.csv", "bad");
    await world.run(30);
    world.unreadable = "worse";
    await world.run(60);
    expect(world.log).toEqual(["aside on.csv", "off.csv → on.csv"]);
  });

  it("does not set aside what may still get its scale", async () => {
    const world = new World().write(1, "off.csv").write(5, "on.png", "unscaled");
    await world.run(30);
    expect([world.log, world.types()]).toEqual([[], ["later"]]);
    world.at(31, () => {
      const { mtimeMs } = world.files.get("on.png")!;
      world.files.set("on.png", { text: "x scaled", mtimeMs });
    });
    await world.run(60);
    expect(world.log).toEqual(["off.csv → on.png"]);
  });

  it("neither loses nor takes anything twice when it is ended and begun at any moment", async () => {
    for (let cutS = 1; cutS < 60; cutS++) {
      const world = new World().write(1, "off-1.csv").write(9, "on-1.csv").write(10, "on-2.csv");
      world.write(11, "bad.csv", "bad").write(30, "on-3.csv").write(40, "off-2.csv").write(41, "on-4.csv");
      await world.run(cutS);
      await world.run(90);
      const powered = world.log
        .filter((line) => line.includes("→"))
        .flatMap((line) => line.split(" → ")[1]!.split(" "));
      expect(powered.sort(), `ended at ${cutS} s`).toEqual(["on-1.csv", "on-2.csv", "on-3.csv", "on-4.csv"]);
      expect(
        world.log.filter((line) => line.startsWith("aside")),
        `ended at ${cutS} s`,
      ).toEqual(["aside bad.csv"]);
    }
  });

  it("takes what dropped in while it was not running", async () => {
    const world = new World().write(1, "off.csv").write(10, "on-1.csv");
    await world.run(30);
    await world.write(100, "on-2.csv").write(200, "on-3.csv").run(31);
    world.nowMs = 1_500_000;
    await world.run(530);
    expect(world.log).toEqual(["off.csv → on-1.csv", "off.csv → on-2.csv", "off.csv → on-3.csv"]);
  });

  it("leaves files alone that are older than the job, and says so once", async () => {
    const world = new World().write(-90, "off.csv").write(-80, "on.csv");
    await world.run(30);
    expect([world.log, world.types()]).toEqual([[], ["older"]]);
    await world.run(60, { older: true });
    expect(world.log).toEqual(["off.csv → on.csv"]);
  });

  it("tells roles by order", async () => {
    const world = new World().write(1, "a.csv").write(20, "b.csv").write(40, "c.csv").write(60, "d.csv");
    await world.run(80, { tell: "order" });
    expect(world.log).toEqual(["a.csv → b.csv", "c.csv → d.csv"]);
  });

  it("asks where names do not tell, once, and only when the group is complete", async () => {
    const world = new World().write(1, "a1.csv").write(3, "a2.csv").write(20, "b.csv").write(40, "c.csv");
    const questions: string[] = [];
    world.asked = (names) => {
      questions.push(`${names} at ${(world.nowMs - 1_000_000) / 1000}`);
      if (names === "c.csv") return null;
      return names === "b.csv" ? "powered" : "baseline";
    };
    await world.run(70);
    // Two frames with the last at 3 s; quiet for 5 s at 8 s.
    expect(questions).toEqual(["a1.csv a2.csv at 8", "b.csv at 25", "c.csv at 45"]);
    expect(world.log).toEqual(["a1.csv a2.csv → b.csv"]);
    expect(world.events).toEqual([]);
  });

  it("says what nothing tells the role of, where nobody can be asked, and goes on", async () => {
    const world = new World().write(1, "a.csv").write(20, "off.csv").write(40, "on.csv");
    await world.run(70);
    expect(world.log).toEqual(["off.csv → on.csv"]);
    expect(world.events).toMatchObject([{ type: "waiting", waiting: { for: "role" } }]);
  });

  it("does not pair frames of different sizes", async () => {
    const world = new World().write(1, "off.csv").write(10, "on.csv", "small").write(30, "on-2.csv");
    await world.run(50);
    expect(world.log).toEqual(["off.csv → on-2.csv"]);
    expect(world.events).toMatchObject([{ type: "waiting", waiting: { for: "baseline" } }]);
  });

  it("tries again while the job is busy", async () => {
    const world = new World().write(1, "off.csv").write(10, "on.csv").write(11, "bad.csv", "bad");
    world.addFault = "E_JOB_LOCKED";
    await world.at(40, () => (world.addFault = null)).run(39);
    expect([world.log, world.types()]).toEqual([[], ["later"]]);
    await world.run(60);
    expect(world.log.sort()).toEqual(["aside bad.csv", "off.csv → on.csv"]);
    // Hours later it is busy again: that is said again, also within one run.
    world
      .write(70, "on-2.csv")
      .write(140, "on-3.csv")
      .at(65, () => (world.addFault = "E_JOB_WRITE"));
    world.at(100, () => (world.addFault = null)).at(130, () => (world.addFault = "E_JOB_WRITE"));
    await world.at(170, () => (world.addFault = null)).run(200);
    expect(world.log.slice(2)).toEqual(["off.csv → on-2.csv", "off.csv → on-3.csv"]);
    expect(world.types()).toEqual(["later", "setAside", "later", "later"]);
  });

  it("says what the job refuses, once, and goes on with what comes after it", async () => {
    const world = new World().write(1, "off.csv").write(10, "on-1.csv").write(40, "on-2.csv");
    world.addFault = "E_VIEW_FRAME";
    await world.at(30, () => (world.addFault = null)).run(60);
    expect(world.log).toEqual(["off.csv → on-2.csv"]);
    expect(world.types()).toEqual(["refused"]);
    // The next run tries it again.
    await world.run(90);
    expect(world.log).toEqual(["off.csv → on-2.csv", "off.csv → on-1.csv"]);
  });

  it("does not take what another process added meanwhile", async () => {
    const world = new World().write(1, "off.csv").write(10, "on.csv");
    await world.at(14, () => world.roles.set("sha frame on.csv", "powered")).run(40);
    expect(world.log).toEqual([]);
  });

  it("goes on when the folder goes and comes back", async () => {
    const world = new World().write(1, "off.csv").write(10, "on.csv");
    world.at(5, () => (world.listFault = true)).at(30, () => (world.listFault = false));
    await world.run(60);
    expect(world.log).toEqual(["off.csv → on.csv"]);
    expect(world.types()).toEqual(["later"]);
    world.at(70, () => (world.listFault = true)).at(80, () => (world.listFault = false));
    await world
      .at(90, () => (world.listFault = true))
      .at(99, () => (world.listFault = false))
      .run(120);
    // Once for each time that it went.
    expect(world.types()).toEqual(["later", "later", "later"]);
  });

  it("refuses a folder that is not there at the start, and passes on what is a fault of ours", async () => {
    const world = new World();
    world.listFault = true;
    await expect(world.run(9)).rejects.toThrow(/E_WATCH_FOLDER/);
    const broken = new World().write(1, "off.csv").write(2, "on.csv");
    broken.onAdd = () => {
      throw new TypeError("a slip");
    };
    await expect(broken.run(30)).rejects.toThrow("a slip");
  });

  it("ends by itself with once, when nothing is left to be done", async () => {
    const world = new World()
      .write(0, "off.csv")
      .write(0, "on.csv")
      .write(0, "bad.csv", "bad")
      .write(0, "x.csv");
    await world.run(1e6, { once: true });
    expect(world.log.sort()).toEqual(["aside bad.csv", "off.csv → on.csv"]);
    expect(world.nowMs).toBeLessThan(1_020_000);
  });

  it("reads a file once as long as it stays the same", async () => {
    const world = new World().write(1, "off.csv").write(10, "on.csv").write(11, "bad.csv", "bad");
    await world.run(300);
    expect(world.reads).toBe(3);
  });
});
