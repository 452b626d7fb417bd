import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { callApi } from "../../../../src/api/call-api.js";
import {
  loadDraft,
  saveDraftSoon,
  sendDrafts,
  sendDraftsOnLeaving,
} from "../../../../src/page/state/draft.js";

/** A server whose answers come when they are let go. */
function playServer() {
  const kept: Record<string, unknown> = {};
  const sent: unknown[] = [];
  const waiting: ((isTaken: boolean) => void)[] = [];
  const call = (async (kind: string, words: { job: string; name: string; body?: { draft: unknown } }) => {
    const key = `${words.job}/${words.name}`;
    if (kind === "draft") return { draft: kept[key] };
    sent.push(words.body!.draft);
    if (!(await new Promise<boolean>((letGo) => waiting.push(letGo)))) throw new Error("nobody answers");
    kept[key] = words.body!.draft;
    return { done: true };
  }) as unknown as typeof callApi;
  const answer = async (isTaken = true): Promise<void> => {
    waiting.shift()!(isTaken);
    await vi.advanceTimersByTimeAsync(0);
  };
  return { kept, sent, call, answer };
}

let number = 0;
const jobOf = (): string => `job-${++number}`;

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe("a draft", () => {
  it("is sent a moment after the last change, and is known here until the server has it", async () => {
    const job = jobOf();
    const { kept, sent, call, answer } = playServer();
    saveDraftSoon(job, "a", () => "s", call);
    await vi.advanceTimersByTimeAsync(300);
    saveDraftSoon(job, "a", () => "so", call);
    await vi.advanceTimersByTimeAsync(300);
    expect(sent).toEqual([]);
    await vi.advanceTimersByTimeAsync(200);
    expect(sent).toEqual(["so"]);
    // Under way: whoever asks gets what was typed, not what the server has.
    expect(await loadDraft(job, "a", call)).toBe("so");
    await answer();
    kept[`${job}/a`] = "of another window";
    expect(await loadDraft(job, "a", call)).toBe("of another window");
    expect(await loadDraft(job, "b", call)).toBeNull();
  });

  it("never overtakes an earlier one", async () => {
    const job = jobOf();
    const { kept, sent, call, answer } = playServer();
    saveDraftSoon(job, "a", () => 1, call);
    sendDrafts();
    saveDraftSoon(job, "a", () => 2, call);
    await vi.advanceTimersByTimeAsync(1000);
    expect(sent).toEqual([1]);
    await answer();
    expect(sent).toEqual([1, 2]);
    await answer();
    expect(kept[`${job}/a`]).toBe(2);
  });

  it("that the server did not take is sent again when it is there", async () => {
    const job = jobOf();
    const { kept, call, answer } = playServer();
    saveDraftSoon(job, "a", () => "typed", call);
    await vi.advanceTimersByTimeAsync(500);
    await answer(false);
    expect(await loadDraft(job, "a", call)).toBe("typed");
    sendDrafts();
    await answer();
    expect(kept[`${job}/a`]).toBe("typed");
  });

  it("changed while the kept one comes is worth more", async () => {
    const job = jobOf();
    const { kept, call, answer } = playServer();
    kept[`${job}/a`] = "old";
    const loaded = loadDraft(job, "a", call);
    saveDraftSoon(job, "a", () => "new", call);
    expect(await loaded).toBe("new");
    sendDrafts();
    await answer();
  });

  it("that waits when the page is left is there for the next page of the window, whatever its size", async () => {
    const job = jobOf();
    const store = new Map<string, string>();
    vi.stubGlobal("sessionStorage", {
      getItem: (key: string) => store.get(key) ?? null,
      setItem: (key: string, value: string) => void store.set(key, value),
      removeItem: (key: string) => void store.delete(key),
    });
    const leaving: (() => void)[] = [];
    vi.stubGlobal("addEventListener", (_: string, take: () => void) => leaving.push(take));
    const asked: RequestInit[] = [];
    vi.stubGlobal("fetch", (_: string, init: RequestInit) => {
      asked.push(init);
      return new Promise(() => {});
    });
    const large = "x".repeat(100_000);
    const { call } = playServer();
    sendDraftsOnLeaving();
    saveDraftSoon(job, "small", () => "typed", call);
    saveDraftSoon(job, "large", () => large, call);
    leaving[0]!();
    // What a browser takes over the end of a page outlives it.
    expect(asked.map(({ keepalive }) => keepalive)).toEqual([true, false]);
    // The next page has none of this in its memory.
    vi.resetModules();
    const next = await import("../../../../src/page/state/draft.js");
    next.sendDraftsOnLeaving();
    expect(await next.loadDraft(job, "large", call)).toBe(large);
    expect(await next.loadDraft(job, "small", call)).toBe("typed");
    expect(asked).toHaveLength(4);
    expect(store.size).toBe(0);
  });
});
