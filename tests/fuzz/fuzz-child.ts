// fuzz: the process that reads the inputs; alone in it, so that its memory is that of the readers.
import { openSync, writeSync } from "node:fs";
import { runInputs } from "./run-inputs.js";
import { TARGETS } from "./targets/targets.js";

const [names, seed, inputs, from, minutes, progressFile] = process.argv.slice(2);
const progress = openSync(progressFile!, "w");
const amount = { seed: seed!, inputs: Number(inputs), from: Number(from), minutes: Number(minutes) };
const place = new Float64Array(2);
/** Inputs between two rounds of the collector: it takes some ten ms. */
const COLLECT_EVERY = 2000;

for (const [t, name] of names!.split(",").entries()) {
  const entry = TARGETS.find((one) => one.name === name);
  if (entry === undefined) throw new Error(`there is no target ${name}`);
  const { target, remove } = await entry.prepare();
  try {
    const figures = await runInputs(target, amount, (input) => {
      // What the collector has not come round to is no memory of the readers.
      if (input % COLLECT_EVERY === 0) globalThis.gc?.();
      place[0] = t;
      place[1] = input;
      writeSync(progress, place, 0, place.byteLength, 0);
    });
    // Kilobytes, of the whole process since it began.
    process.send!({ ...figures, peakMiB: Math.round(process.resourceUsage().maxRSS / 1024) });
  } finally {
    await remove();
  }
}
process.disconnect();
