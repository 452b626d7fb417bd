// npm run fuzz: every reader is given files that are damaged, hostile or in another style; figures are printed.
import { parseArgs } from "node:util";
import { TARGETS } from "./targets/targets.js";
import { WATCH_LIMITS, watchChild } from "./watch-child.js";

const { values } = parseArgs({
  options: {
    inputs: { type: "string", default: "1000000" },
    /** A run that was cut short is gone on with at the input that comes next: read and refused, added up. */
    from: { type: "string", default: "0" },
    /** Of each target at most so long; how many inputs it came to is printed. */
    minutes: { type: "string", default: "Infinity" },
    seed: { type: "string", default: "2031" },
    targets: { type: "string", default: TARGETS.map(({ name }) => name).join(",") },
    help: { type: "boolean", default: false },
  },
});
if (values.help) {
  console.log(
    "npm run fuzz -- [--inputs N] [--from N] [--minutes N] [--seed TEXT] [--targets a,b]\n\nTargets:",
    TARGETS.map(({ name }) => name).join(", "),
  );
  process.exit(0);
}
const inputs = Number(values.inputs);
if (!Number.isInteger(inputs) || inputs < 1)
  throw new Error(`--inputs: expected a whole number above 0, found ${values.inputs}`);
const from = Number(values.from);
if (!Number.isInteger(from) || from < 0 || from >= inputs)
  throw new Error(`--from: expected a whole number below ${inputs}, found ${values.from}`);
const minutes = Number(values.minutes);
if (!(minutes > 0)) throw new Error(`--minutes: expected a number above 0, found ${values.minutes}`);

console.log(
  `seed ${values.seed}, ${inputs} inputs each${from === 0 ? "" : `, from number ${from} on`}${Number.isFinite(minutes) ? `, ${minutes} minutes at most` : ""}\n`,
);
console.log("target           read    refused  slowest  memory  faults");
let bad = 0;
for (const name of values.targets.split(",")) {
  try {
    const [figures] = await watchChild([name], { seed: values.seed, inputs, from, minutes });
    const { read, refused, slowestMs, peakMiB, faults } = figures!;
    const cells = [
      String(read).padStart(9),
      String(refused).padStart(10),
      `${slowestMs.toFixed(0)} ms`.padStart(8),
      `${peakMiB} MiB`.padStart(8),
    ];
    console.log(`${name.padEnd(12)} ${cells.join(" ")} ${String(faults.length).padStart(6)}`);
    bad += faults.length;
    if (peakMiB > WATCH_LIMITS.memoryMiB) {
      bad++;
      console.log(`  it took more than ${WATCH_LIMITS.memoryMiB} MiB`);
    }
    for (const fault of faults.slice(0, 5))
      console.log(
        `  input ${fault.input} (${fault.what}): ${fault.fault}\n    ${fault.bytes ?? "too long to print"}`,
      );
  } catch (error) {
    bad++;
    console.log(`${name.padEnd(12)} ${(error as Error).message}`);
  }
}
process.exitCode = bad === 0 ? 0 : 1;
