// bench: `npx tsx tests/bench/bench-memory.ts [FRAMES …]` after a build → the most memory that `find` takes for bursts
// of 256×192, by default 1,200 and 12,000 frames, and how long it takes. No pass or fail. Wants 0.1 MB a frame on the
// disk for the pictures, and twice as much again for the command's own copy.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { TELL_PEAK, toldPeakMb } from "./tell-peak.js";
import { LONG_BURST, writeLongBurst } from "./write-long-burst.js";

const COMMAND = fileURLToPath(new URL("../../bin/faultglow.js", import.meta.url));
/** Under a minute at the camera's rate, and eight. */
const LENGTHS = [1200, 12_000];
/** What the two may take, MB, and the longer one more than the shorter one. */
const MOST_MB = 250;
const MOST_MORE = 0.1;

const lengths = process.argv.length > 2 ? process.argv.slice(2).map(Number) : LENGTHS;
const folder = mkdtempSync(join(tmpdir(), "faultglow-memory-"));
try {
  process.stdout.write(
    `${LONG_BURST.width}×${LONG_BURST.height}   frames   peak MB   seconds   frames/s   warm spots\n`,
  );
  const peaks = [1, ...lengths].map(measure);
  if (lengths.length > 1) {
    const more = peaks[peaks.length - 1]! / peaks[1]! - 1;
    process.stdout.write(
      `The longest takes ${(100 * more).toFixed(0)} % more than the shortest; at most ${MOST_MB} MB and ${100 * MOST_MORE} % are wanted.\n`,
    );
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

function measure(frames: number): number {
  const place = join(folder, String(frames));
  const { baseline, powered } = writeLongBurst(place, frames);
  const words = ["find", "--json", "--quiet", "--scale", LONG_BURST.scale, "--baseline", baseline];
  const rate = frames === 1 ? [] : ["--rate", String(LONG_BURST.rateHz)];
  const start = performance.now();
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ["--import", `data:text/javascript,${TELL_PEAK}`, COMMAND, ...words, ...rate, "--powered", powered],
    { encoding: "utf8", maxBuffer: 2 ** 30 },
  );
  const seconds = (performance.now() - start) / 1000;
  rmSync(place, { recursive: true, force: true });
  if (status !== 0) throw new Error(`${frames} frames: ended with ${status}: ${stderr}`);
  const peak = toldPeakMb(stderr);
  const { hotspots } = JSON.parse(stdout) as { hotspots: readonly unknown[] };
  process.stdout.write(
    `          ${String(frames).padStart(6)} ${peak.toFixed(0).padStart(9)} ${seconds.toFixed(1).padStart(9)} ` +
      `${(frames / seconds).toFixed(0).padStart(10)} ${String(hotspots.length).padStart(12)}\n`,
  );
  return peak;
}
