// Work on one folder is done in turns; of one sort many at a time, each with its own outcome.
import { describe, expect, it } from "vitest";
import { FolderTurns, GatheredTurns } from "../../../src/serve/folder-turns.js";

/** A gate that stays shut until it is opened. */
function makeGate() {
  let open = (): void => {};
  const opened = new Promise<void>((resolve) => {
    open = resolve;
  });
  return { opened, open: () => open() };
}

describe("turns", () => {
  it("follow each other in one folder, also after one that fails, and don't wait for those of another", async () => {
    const turns = new FolderTurns();
    const gate = makeGate();
    const order: string[] = [];
    const first = turns.run("a", async () => {
      await gate.opened;
      order.push("first");
      throw new Error("no room");
    });
    const second = turns.run("a", async () => order.push("second"));
    await turns.run("b", async () => order.push("elsewhere"));
    gate.open();
    await expect(first).rejects.toThrow("no room");
    await second;
    expect(order).toEqual(["elsewhere", "first", "second"]);
  });
});

describe("gathered turns", () => {
  it("do together what came while something else had its turn, no more than may be, in their order", async () => {
    const turns = new FolderTurns();
    const gate = makeGate();
    const batches: [string, number[]][] = [];
    const doubled = new GatheredTurns<number, number>(
      turns,
      async (folder, items) => {
        batches.push([folder, [...items]]);
        return items.map((item) => 2 * item);
      },
      { waitMs: 0, most: 3 },
    );
    const busy = turns.run("a", () => gate.opened);
    const all = [1, 2, 3, 4, 5].map((item) => doubled.run("a", item));
    expect(await doubled.run("b", 10)).toBe(20);
    gate.open();
    await busy;
    expect(await Promise.all(all)).toEqual([2, 4, 6, 8, 10]);
    expect(batches).toEqual([
      ["b", [10]],
      ["a", [1, 2, 3]],
      ["a", [4, 5]],
    ]);
    expect(await doubled.run("a", 6)).toBe(12);
  });

  it("fail together, and the next are done", async () => {
    let isFull = true;
    const kept = new GatheredTurns<string, string>(
      new FolderTurns(),
      async (_, items) => {
        if (isFull) throw new Error(`no room for ${items.length}`);
        return items;
      },
      { waitMs: 1, most: 9 },
    );
    const lost = await Promise.allSettled([kept.run("a", "x"), kept.run("a", "y")]);
    expect(lost.map((one) => (one.status === "rejected" ? String(one.reason) : ""))).toEqual([
      "Error: no room for 2",
      "Error: no room for 2",
    ]);
    isFull = false;
    expect(await kept.run("a", "z")).toBe("z");
  });
});
