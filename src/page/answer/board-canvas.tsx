// page: a prepared picture → a canvas on the screen, painted anew whenever the threshold changes.
import { useLayoutEffect, useRef } from "preact/hooks";
import { type PaintOptions, paintRise } from "../board/paint-rise.js";
import type { BoardPicture } from "../board/prepare-picture.js";

interface BoardCanvasProps {
  readonly picture: BoardPicture;
  readonly options: PaintOptions;
  /** Size on the screen, px of the page. */
  readonly width: number;
  readonly height: number;
  readonly onPainted?: (canvas: HTMLCanvasElement) => void;
}

/** The board's picture. What it shows stands in words beside it: whoever holds it hides it from screen readers. */
export function BoardCanvas({ picture, options, width, height, onPainted }: BoardCanvasProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const memory = useRef<ImageData | null>(null);
  const { leastSigma, leastRiseK, scaleK, greyC, isDark } = options;
  useLayoutEffect(() => {
    const target = canvas.current;
    if (target === null) return;
    if (target.width !== picture.width || target.height !== picture.height) {
      target.width = picture.width;
      target.height = picture.height;
    }
    let image = memory.current;
    if (image === null || image.width !== picture.width || image.height !== picture.height) {
      image = new ImageData(picture.width, picture.height);
      memory.current = image;
    }
    paintRise(picture, options, new Uint32Array(image.data.buffer));
    target.getContext("2d")?.putImageData(image, 0, 0);
    onPainted?.(target);
  }, [picture, leastSigma, leastRiseK, scaleK.low, scaleK.high, greyC?.low, greyC?.high, isDark]);
  return <canvas ref={canvas} class="board-canvas" style={{ width: `${width}px`, height: `${height}px` }} />;
}
