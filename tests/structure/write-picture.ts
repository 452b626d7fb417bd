// `npm run picture`: the overlay of the demo's first attempt → the picture of the README, as a small file.
import { join } from "node:path";
import sharp from "sharp";
import { PROJECT } from "./project.js";

const from = join(PROJECT, "faultglow-out/attempt-1/overlay.png");
const to = join(PROJECT, "sample-frames/report-picture.png");
// 1000 px are wide enough for the labels, and 128 colours for the ramp: a reader sees no difference.
const { size } = await sharp(from)
  .resize({ width: 1000, withoutEnlargement: true })
  .png({ palette: true, colours: 128, compressionLevel: 9, effort: 10 })
  .toFile(to);
process.stdout.write(`sample-frames/report-picture.png: ${size} bytes\n`);
