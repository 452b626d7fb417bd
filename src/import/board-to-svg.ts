// import: a board map → an SVG drawing of it in mm that importSvg reads back to the same map.
import type { BoardMap, Region } from "../board/board-schema.js";
import { boundsOf, type Polygon } from "../board/polygon.js";
import { attributeText, contentText } from "./svg-text.js";

/** Room around the outline, mm, so that its line is seen. */
const MARGIN_MM = 1;

/** Draw a board map as SVG: a group for each side, a polygon for each part, all fields in `data-` attributes. Parts
 *  below are drawn as seen from the top, dashed.
 *  `importSvg` of the result gives the map again, to the last digit; repeated corners and keys that faultglow does not
 *  know are not in it. */
export function boardToSvg(board: BoardMap): string {
  const all = [...board.outline, ...board.regions.flatMap((region) => region.polygon)];
  const { minX, minY, maxX, maxY } = boundsOf(all);
  const [left, top] = [Math.floor(minX - MARGIN_MM), Math.floor(minY - MARGIN_MM)];
  const [width, height] = [Math.ceil(maxX + MARGIN_MM) - left, Math.ceil(maxY + MARGIN_MM) - top];
  const fields = [
    board.name === undefined ? "" : ` data-name="${attributeText(board.name)}"`,
    board.thicknessMm === undefined ? "" : ` data-thickness-mm="${board.thicknessMm}"`,
    board.plate === undefined ? "" : ` data-plate="${attributeText(JSON.stringify(board.plate))}"`,
  ].join("");
  // Regions keep their order, which a group for each side alone would lose: a new group begins where the side changes.
  const groups: { side: Region["side"]; regions: Region[] }[] = [];
  for (const region of board.regions) {
    const last = groups[groups.length - 1];
    if (last?.side === region.side) last.regions.push(region);
    else groups.push({ side: region.side, regions: [region] });
  }
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" ` +
      `viewBox="${left} ${top} ${width} ${height}"${fields}>`,
    `  <polygon data-role="outline" points="${pointsText(board.outline)}" fill="#e8ede6" stroke="#333" stroke-width="0.2"/>`,
    ...groups.flatMap(({ side, regions }) => [
      `  <g data-side="${side}" fill="${side === "top" ? "#b9c4cc" : "none"}" stroke="#333" stroke-width="0.1"` +
        `${side === "top" ? "" : ' stroke-dasharray="0.4 0.2"'}>`,
      ...regions.map(regionLine),
      "  </g>",
    ]),
    "</svg>",
  ];
  return `${lines.join("\n")}\n`;
}

function regionLine(region: Region): string {
  const { ref, label, kind, finish, emissivity, nets, normallyWarm } = region;
  const data: readonly (readonly [string, string | undefined])[] = [
    ["ref", ref],
    ["label", label],
    // Without a kind the designator would be asked for one.
    ["kind", kind ?? ""],
    ["finish", finish],
    ["emissivity", emissivity?.toString()],
    ["nets", nets === undefined ? undefined : netsText(nets)],
    ["normally-warm", normallyWarm?.toString()],
  ];
  const attributes = data
    .flatMap(([name, value]) => (value === undefined ? [] : ` data-${name}="${attributeText(value)}"`))
    .join("");
  const title = contentText(label === undefined ? ref : `${ref} ${label}`);
  return `    <polygon${attributes} points="${pointsText(region.polygon)}"><title>${title}</title></polygon>`;
}

/** Plain names with blanks between them where that says it all, else a JSON list. */
function netsText(nets: readonly string[]): string {
  return nets.every((net) => /^[^\s,["][^\s,]*$/.test(net)) ? nets.join(" ") : JSON.stringify(nets);
}

/** As many digits as a double needs to come back the same. */
function pointsText(polygon: Polygon): string {
  return polygon.map(([x, y]) => `${x},${y}`).join(" ");
}
