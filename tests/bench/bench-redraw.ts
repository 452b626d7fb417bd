// bench: `npx tsx tests/bench/bench-redraw.ts` → how long the page takes to redraw a board after a change of the
// threshold, and to lay a new picture over it. One frame of a screen of 60 Hz is 16.7 ms.
import { decodePictures, encodePictures } from "../../src/api/pictures.js";
import { makeStage } from "../../src/page/board/make-stage.js";
import { type PaintOptions, paintRise, shownRange } from "../../src/page/board/paint-rise.js";
import { paintLimits, preparePicture } from "../../src/page/board/prepare-picture.js";
import { makeRandom } from "../simulate/random.js";
import { medianTime } from "./median-time.js";

const ROUNDS = 41;
/** Grid points along the longer side, as src/page/answer/board-view.tsx has them. */
const GRID = 720;

for (const [width, height] of [
  [384, 288],
  [640, 512],
] as const) {
  const random = makeRandom(`redraw ${width}`);
  const rise = Float32Array.from({ length: width * height }, (_, i) => {
    const r2 = ((i % width) - 0.6 * width) ** 2 + (Math.floor(i / width) - 0.4 * height) ** 2;
    return 4 * Math.exp(-r2 / (0.02 * width * width)) + 0.05 * random.normal();
  });
  const block = encodePictures({
    width,
    height,
    layers: [
      { name: "baseline", unit: "degC", data: rise.map(() => 24 + random.normal()) },
      { name: "smoothRise", unit: "K", data: rise },
      { name: "significance", unit: "sigma", data: rise.map((value) => value / 0.05) },
    ],
  });
  const pictures = decodePictures(block.buffer);
  const stage = makeStage(null, null, pictures);
  const lay: number[] = [];
  const redraw: number[] = [];
  let sum = 0;
  for (let round = 0; round <= ROUNDS; round++) {
    let start = performance.now();
    const picture = preparePicture(pictures, stage, "rise", GRID);
    if (round > 0) lay.push(performance.now() - start);
    if (picture === null) throw new Error("a raster is missing");
    const into = new Uint32Array(picture.width * picture.height);
    start = performance.now();
    const sigma = 4 + round / 10;
    const limits = paintLimits(picture, { placeSigma: sigma, riseK: sigma * 0.05 });
    const scaleK = shownRange(picture, limits) ?? { low: 0, high: 1 };
    const options: PaintOptions = { ...limits, scaleK, greyC: picture.greyC, isDark: round % 2 === 1 };
    paintRise(picture, options, into);
    if (round > 0) redraw.push(performance.now() - start);
    // What is made is used, so that no engine leaves it out.
    sum += into[round * 1000]!;
  }
  process.stdout.write(
    `${width}×${height}: redraw ${Math.min(...redraw).toFixed(1)} ms (median ${medianTime(redraw).toFixed(1)}), new picture ${Math.min(...lay).toFixed(1)} ms (median ${medianTime(lay).toFixed(1)}) [${sum % 97}]\n`,
  );
}
