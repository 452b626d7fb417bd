// Shapes of drawings against an independent renderer: librsvg, as sharp brings it, paints them; we only measure the
// paint.
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { centroid, signedArea } from "../../src/board/polygon.js";
import { importSvg } from "../../src/import/import-svg.js";

/** What sharp takes for eight times the size of the drawing: some 600 pixels for its 20 mm. */
const DENSITY = 72 * 8;
const WIDTH_MM = 20;

/** Area, mm², and centre, mm, of what is painted. */
async function paintOf(svg: string): Promise<{ areaMm2: number; x: number; y: number }> {
  const { data, info } = await sharp(Buffer.from(svg), { density: DENSITY })
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  const pxPerMm = info.width / WIDTH_MM;
  let [sum, sumX, sumY] = [0, 0, 0];
  for (let i = 0; i < info.width * info.height; i++) {
    const alpha = data[i * info.channels + info.channels - 1]! / 255;
    sum += alpha;
    sumX += alpha * (i % info.width);
    sumY += alpha * Math.floor(i / info.width);
  }
  // The centre of pixel 0 lies half a pixel from the edge.
  return {
    areaMm2: sum / pxPerMm ** 2,
    x: (sumX / sum + 0.5) / pxPerMm,
    y: (sumY / sum + 0.5) / pxPerMm,
  };
}

const HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="13mm" viewBox="0 0 40 26">';

describe("shapes", () => {
  it.each([
    ["a rounded rectangle", '<rect id="A1" x="5" y="4" width="17" height="9" rx="3" ry="2"/>'],
    ["a turned ellipse", '<ellipse id="A1" cx="20" cy="12" rx="9" ry="4" transform="rotate(25 20 12)"/>'],
    ["a skewed circle", '<circle id="A1" cx="12" cy="9" r="5" transform="translate(2,1) skewX(20)"/>'],
    ["cubic curves, smooth ones too", '<path id="A1" d="M4 14C6 2 14 2 16 12s10 12 14-2L34 22H4z"/>'],
    ["quadratic curves, relative and smooth", '<path id="A1" d="m5,15q4-14 9-2t9-3t8,2v9h-26z"/>'],
    ["a large arc against the clock", '<path id="A1" d="M10 12A8 5 30 1 0 22 9L16 12z"/>'],
    ["a small arc with the clock", '<path id="A1" d="M10 18A14 9 -20 0 1 30 14L20 22z"/>'],
    ["an arc that is too short for its ends", '<path id="A1" d="M6 13a2 1 15 0 1 24 4z"/>'],
    ["numbers run together", '<path id="A1" d="M4-0 34.5.5l-4.5 18.5-20-1.5.5-1e0z"/>'],
    [
      "nested groups",
      '<g transform="translate(20 3) rotate(30)"><g transform="scale(1.5,-.8) translate(0 -12)"><rect id="A1" width="7" height="9"/></g></g>',
    ],
    ["a polyline", '<polyline id="A1" points="4,4 30,6 22,20 9 17"/>'],
  ])("%s covers what the renderer paints", async (_, body) => {
    const svg = `${HEAD}${body}</svg>`;
    const { board } = importSvg(svg, "a.svg", { outline: { widthMm: 20, heightMm: 13 } });
    const { polygon } = board.regions[0]!;
    const paint = await paintOf(svg);
    // The picture is some 600 pixels wide, rounded to whole ones, and edges are painted in 256 steps: a thousandth
    // of a length, and two of an area. Our corners are a hundredth of a millimetre off at most.
    expect(Math.abs(Math.abs(signedArea(polygon)) / paint.areaMm2 - 1)).toBeLessThan(0.005);
    const [x, y] = centroid(polygon);
    expect(Math.hypot(x - paint.x, y - paint.y)).toBeLessThan(0.03);
  });
});
