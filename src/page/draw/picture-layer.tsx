// page: a picture and the transform that lays it under a pane → an element that the browser warps.
import { useEffect, useRef } from "preact/hooks";
import { paintGrey } from "../board/paint-grey.js";
import { isDark } from "../state/settings.js";
import type { Picture } from "./draw-session.js";
import { cssMatrix } from "./model/camera.js";

interface PictureLayerProps {
  readonly picture: Picture;
  /** From picture pixels to the pane, 3×3 row by row. */
  readonly matrix: readonly number[];
}

/** Lay a picture under a pane. */
export function PictureLayer({ picture, matrix }: PictureLayerProps) {
  const { width, height, data, address } = picture;
  const canvas = useRef<HTMLCanvasElement>(null);
  const dark = isDark.value;
  useEffect(() => {
    const context = canvas.current?.getContext("2d");
    if (data === null || context == null) return;
    context.putImageData(
      new ImageData(paintGrey({ width, height, data }, dark ? "dark" : "light").rgba, width, height),
      0,
      0,
    );
  }, [picture, dark]);
  const style = { width: `${width}px`, height: `${height}px`, transform: cssMatrix(matrix) };
  return data === null ? (
    <img class="draw-picture" src={address ?? ""} alt="" draggable={false} style={style} />
  ) : (
    <canvas class="draw-picture draw-pixels" ref={canvas} width={width} height={height} style={style} />
  );
}
