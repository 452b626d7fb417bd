import { afterEach, describe, expect, it, vi } from "vitest";
import {
  keepPlacedView,
  loadPlacedView,
  type PlacedBaseline,
  placedView,
} from "../../../../src/page/state/placed-views.js";

const PLACED: PlacedBaseline = {
  view: {
    kind: "faultglow/view",
    version: 1,
    side: "top",
    frame: { width: 31, height: 17 },
    fiducials: [],
  },
  board: null,
  by: "file",
  sigmaMm: null,
};
const BASELINE = "ab".repeat(32);

afterEach(() => vi.unstubAllGlobals());

describe("how a baseline sees the board", () => {
  it("is what was said last, though the question for what was kept is answered after that", async () => {
    let answer = (_: Response): void => {};
    vi.stubGlobal("fetch", (_: string, { method }: RequestInit) =>
      method === "GET"
        ? new Promise<Response>((done) => {
            answer = done;
          })
        : Promise.resolve(Response.json({ done: true })),
    );
    const asked = loadPlacedView("job-1", BASELINE);
    await keepPlacedView("job-1", BASELINE, PLACED);
    answer(Response.json({ draft: null }));
    expect(await asked).toEqual(PLACED);
    expect(placedView("job-1", BASELINE)).toEqual(PLACED);
  });

  it("is another thing in another job, though it has the same frame", async () => {
    vi.stubGlobal("fetch", () => Promise.resolve(Response.json({ draft: null })));
    expect(placedView("job-2", BASELINE)).toBeNull();
    expect(await loadPlacedView("job-2", BASELINE)).toBeNull();
    expect(placedView("job-1", BASELINE)).toEqual(PLACED);
  });
});
