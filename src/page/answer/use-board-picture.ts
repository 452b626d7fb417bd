// page: the rasters of an attempt → the picture of the board, laid out apart from what is drawn at once.
import { useEffect, useState } from "preact/hooks";
import type { Pictures } from "../../api/pictures.js";
import type { Stage } from "../board/make-stage.js";
import { type BoardPicture, preparePicture, type RiseLayer } from "../board/prepare-picture.js";

/** What was laid out, and of what. */
interface Laid {
  readonly pictures: Pictures;
  readonly stage: Stage;
  readonly picture: BoardPicture | null;
}

/** Lay the picture of a board out in a task of its own, and give it in another: layout, labels, picture and painting
 *  together would keep the page from answering for too long.
 *  @returns undefined until it is there; of a picture that only changes its layer the one before; null where a raster
 *  is missing.
 */
export function useBoardPicture(
  pictures: Pictures,
  stage: Stage,
  layer: RiseLayer,
  longest: number,
): BoardPicture | null | undefined {
  const [laid, setLaid] = useState<Laid | null>(null);
  useEffect(() => {
    let timer = setTimeout(() => {
      const picture = preparePicture(pictures, stage, layer, longest);
      timer = setTimeout(() => setLaid({ pictures, stage, picture }));
    });
    return () => clearTimeout(timer);
  }, [pictures, stage, layer, longest]);
  return laid?.pictures === pictures && laid.stage === stage ? laid.picture : undefined;
}
