// page: a frame of the inbox → its picture in grey, with the temperatures of black and white and of the pixel pointed
// at.
import { useEffect, useRef, useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import type { InboxFile } from "../../api/inbox-schema.js";
import { decodePictures, layerOf, type Pictures } from "../../api/pictures.js";
import { paintGrey } from "../board/paint-grey.js";
import { temperatureText } from "../show/show-temperature.js";
import { announceError } from "../state/announce.js";
import { showNumber, temperature } from "../state/settings.js";

/** The picture of a frame as it was dropped. */
export function FramePreview({ job, file }: { readonly job: string; readonly file: InboxFile }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [loaded, setLoaded] = useState<{ readonly of: string; readonly pictures: Pictures } | null>(null);
  const [pixel, setPixel] = useState<readonly [number, number] | null>(null);
  const pictures = loaded?.of === file.sha256 ? loaded.pictures : null;
  useEffect(() => {
    if (pictures !== null) return;
    const giveUp = new AbortController();
    callApi("inboxFrame", { job, sha256: file.sha256 }, { signal: giveUp.signal }).then(
      (block) => setLoaded({ of: file.sha256, pictures: decodePictures(block) }),
      (error: unknown) => {
        // What can't be shown before it is read is told of when it is.
        if (!giveUp.signal.aborted && file.sort === "frame") announceError(error);
      },
    );
    return () => giveUp.abort();
  }, [job, file.sha256, file.sort]);
  const data = pictures === null ? null : layerOf(pictures, "frame");
  useEffect(() => {
    const target = canvas.current;
    if (target === null || pictures === null || data === null) return;
    const { width, height } = pictures;
    target.width = width;
    target.height = height;
    const painted = paintGrey({ width, height, data }, "alone");
    target.getContext("2d")?.putImageData(new ImageData(painted.rgba, width, height), 0, 0);
  }, [pictures, data]);
  const point = (event: PointerEvent): void => {
    if (pictures === null) return;
    const box = (event.currentTarget as HTMLElement).getBoundingClientRect();
    const x = Math.floor(((event.clientX - box.left) / box.width) * pictures.width);
    const y = Math.floor(((event.clientY - box.top) / box.height) * pictures.height);
    setPixel([Math.min(pictures.width - 1, Math.max(0, x)), Math.min(pictures.height - 1, Math.max(0, y))]);
  };
  const valueC =
    pixel === null || data === null || pictures === null ? null : data[pixel[1] * pictures.width + pixel[0]];
  const { frame } = file;
  if (frame === null && pictures === null) return null;
  return (
    <figure class="frame-preview panel">
      <figcaption>
        {file.names[0]}
        {frame !== null && frame.frames > 1 ? ` (first of ${frame.frames} frames)` : ""}
      </figcaption>
      <canvas
        ref={canvas}
        role="img"
        aria-label={`Picture of ${file.names[0]}`}
        onPointerMove={point}
        onPointerLeave={() => setPixel(null)}
      />
      {frame !== null && (
        <p class="small">
          {showNumber(
            `${temperatureText(frame.lowC, temperature.value)} to ${temperatureText(frame.highC, temperature.value)}, half of it below ${temperatureText(frame.medianC, temperature.value)}`,
          )}
        </p>
      )}
      <p class="small readout">
        {pixel === null || valueC == null
          ? "Point at the picture for the temperature of a pixel."
          : showNumber(`${pixel[0]}, ${pixel[1]} px: ${temperatureText(valueC, temperature.value, 2)}`)}
      </p>
    </figure>
  );
}
