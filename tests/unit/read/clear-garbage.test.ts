import { setTimeout as sleep } from "node:timers/promises";
import { expect, it } from "vitest";
import { clearGarbage } from "../../../src/read/clear-garbage.js";

const MB = 1024 * 1024;

it("clears away what nobody holds any more, and nothing else", async () => {
  const held = { picture: new Float32Array(1000) };
  const [kept, dropped] = [new WeakRef(held), new WeakRef({ picture: new Float32Array(1000) })];
  // What a weak reference was just made of stays until the turn is over.
  await sleep(0);
  clearGarbage();
  expect(dropped.deref()).toBeUndefined();
  expect(kept.deref()).toBe(held);
  // The engine shows its function to nobody else.
  expect("gc" in globalThis).toBe(false);
});

it("gives back the memory of pictures that were just made", () => {
  clearGarbage("young");
  const before = process.memoryUsage().arrayBuffers;
  const bytes = () => process.memoryUsage().arrayBuffers - before;
  let last = new Uint8Array(0);
  for (let k = 0; k < 80; k++) last = new Uint8Array(MB / 10);
  expect(bytes()).toBeGreaterThan(7 * MB);
  clearGarbage("young");
  // What it finds is freed beside this thread: the next time at the latest.
  clearGarbage("young");
  expect(bytes()).toBeLessThan(MB);
  expect(last).toHaveLength(Math.floor(MB / 10));
});
