import { describe, expect, it } from "vitest";
import type { SetFit } from "../../../src/sources/candidate-pool.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import type { Candidate } from "../../../src/sources/source-model.js";
import { strangePixels } from "../../../src/sources/strange-pixels.js";
import { makeRandom } from "../../simulate/random.js";
import { denseOf } from "./dense-column.js";
import { levelColumns, modelOf, partOf } from "./small-model.js";

const model = modelOf();
const width = 128;
const NOISE_K = 0.04;
const state = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm === 18)!;
const u2 = partOf(model, "U2");
const heat = Float32Array.from(denseOf(model.plateColumn(u2, state), model.size), (value) => 0.6 * value);
const answer = { powersW: Float64Array.of(0.6), bodyShares: Float64Array.of(0) } as unknown as SetFit;
/** A pad of the board between the parts, px: left, top, width, height. */
const PAD = [58, 24, 9, 7] as const;

/** What is left out where the pad shows so great a share of the heat, and so much more.
 *  @param set what was found. @param fit its watts.
 */
function strange(
  share: number,
  stepK: number,
  set: readonly Candidate[] = [u2],
  fit: SetFit = answer,
): Uint8Array {
  const random = makeRandom("strange pixels");
  const [left, top, w, h] = PAD;
  const rise = Float32Array.from(heat, (value, i) => {
    const [x, y] = [i % width, Math.floor(i / width)];
    const isPad = x >= left && x < left + w && y >= top && y < top + h;
    return (isPad ? share * value + stepK : value) + NOISE_K * random.normal();
  });
  const taken = {
    rise,
    residual: rise.map((value, i) => value - heat[i]!),
    // The plate model may err by 30 %: so wide that no residual stands out, and only the noise tells a cool face.
    variance: heat.map((value) => NOISE_K ** 2 + (stepK === 0 ? 0.3 * value : 0) ** 2),
    noise: new Float32Array(model.size).fill(NOISE_K ** 2),
    nuisance: levelColumns(model, 0.3),
    state,
    scale: 1,
  };
  return strangePixels(model, taken, set, fit, []);
}
const middle = (PAD[1] + 3) * width + PAD[0] + 4;
const count = (out: Uint8Array): number => out.reduce((a, b) => a + b, 0);

describe("strangePixels", () => {
  it("a board that shows what the sources make has none", () => {
    expect(count(strange(1, 0))).toBe(0);
  });

  it("a pad that changed as no source explains is left out, and nothing else", () => {
    const out = strange(1, 1.5);
    expect(out[middle]).toBe(1);
    // 9 × 7, and up to three pixels more each way.
    expect(count(out)).toBeLessThan(15 * 13);
  });

  it("a pad that stayed cool on the warm board is left out by the noise, though the model may err by more", () => {
    const out = strange(0.1, 0);
    expect(out[middle]).toBe(1);
    expect(count(out)).toBeLessThan(15 * 13);
  });

  it("the same on a place that is itself one of the sources is that source's matter", () => {
    const [left, top, w, h] = PAD;
    const window = { x0: left - 3, y0: top - 3, width: w + 6, height: h + 6 };
    const place = {
      kind: "heat",
      region: -1,
      face: { picture: 0, window },
      body: null,
    } as unknown as Candidate;
    const watts = {
      powersW: Float64Array.of(0.6, 0),
      bodyShares: Float64Array.of(0, 0),
    } as unknown as SetFit;
    expect(strange(1, 1.5, [u2, place], watts)[middle]).toBe(0);
  });
});
