import { expect, it } from "vitest";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { shownKPerW } from "../../../src/sources/shown-k-per-w.js";
import { modelOf, partOf } from "./small-model.js";

it("a hill stands as high as its highest pixel that takes part", () => {
  const model = modelOf();
  const part = partOf(model, "C1");
  const state = PLATE_STATES[0]!;
  const { at, values } = model.plateColumn(part, state);
  const top = values.indexOf(values.reduce((a, b) => Math.max(a, b)));
  const variance = new Float32Array(model.size).fill(1);
  expect(shownKPerW(model, part, state, variance)).toBe(values[top]);
  // Without the top and what is as high.
  values.forEach((value, k) => {
    const i = at![k]!;
    if (value > 0.5 * values[top]!) variance[i] = i % 2 === 0 ? Number.NaN : 0;
  });
  const rest = shownKPerW(model, part, state, variance);
  expect(rest).toBeLessThanOrEqual(0.5 * values[top]!);
  expect(rest).toBeGreaterThan(0);
});
