// place: a frame → its detail between two widths, in which edges are compared.
import { bandPass } from "../align/band-pass.js";
import { createRaster, type Raster } from "../core/raster.js";
import type { EdgeDetail } from "./edge-cells.js";

/** Keep the detail of a frame at which edges are compared.
 *  @param frame without the sensor's lines, from `edgeFrame`.
 *  @param scale px of this frame per px that `detail` is told in.
 */
export function edgePicture(
  { width, height, data }: Raster<"degC">,
  { fineSigmaPx, coarseSigmaPx }: Pick<EdgeDetail, "fineSigmaPx" | "coarseSigmaPx">,
  scale = 1,
): Raster<"K"> {
  const detail = bandPass(data, width, height, scale * fineSigmaPx, scale * coarseSigmaPx);
  return createRaster("K", width, height, detail);
}
