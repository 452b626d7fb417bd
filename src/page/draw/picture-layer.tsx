// page: a picture and the transform that lays it under a pane → an element that the browser warps.
import { useEffect, useRef } from "preact/hooks";
import { evenOut } from "../board/even-out.js";
import { type GreyGround, paintGrey } from "../board/paint-grey.js";
import { isDark } from "../state/settings.js";
import type { Picture } from "./draw-session.js";
import { cssMatrix } from "./model/camera.js";

interface PictureLayerProps {
  readonly picture: Picture;
  /** From picture pixels to the pane, 3×3 row by row. */
  readonly matrix: readonly number[];
  /** Points are picked on it, so that it shows all that it has; else a board is drawn over it, and it keeps quiet. */
  readonly isPicked?: boolean;
  /** Faint edges are brought out. */
  readonly isEvened: boolean;
}

/** Lay a picture under a pane. */
export function PictureLayer({ picture, matrix, isPicked = false, isEvened }: PictureLayerProps) {
  const { width, height, data, address } = picture;
  const canvas = useRef<HTMLCanvasElement>(null);
  const ground: GreyGround = isPicked || isEvened ? "alone" : isDark.value ? "dark" : "light";
  useEffect(() => {
    const context = canvas.current?.getContext("2d");
    if (data === null || context == null) return;
    const shown = isEvened ? evenOut(data, width, height) : data;
    const { rgba } = paintGrey({ width, height, data: shown }, ground);
    context.putImageData(new ImageData(rgba, width, height), 0, 0);
  }, [picture, ground, isEvened]);
  const style = { width: `${width}px`, height: `${height}px`, transform: cssMatrix(matrix) };
  return data === null ? (
    <img class="draw-picture" src={address ?? ""} alt="" draggable={false} style={style} />
  ) : (
    <canvas class="draw-picture draw-pixels" ref={canvas} width={width} height={height} style={style} />
  );
}
