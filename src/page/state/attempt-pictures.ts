// page: an attempt → its rasters, fetched once.
import { callApi } from "../../api/call-api.js";
import { decodePictures, type Pictures } from "../../api/pictures.js";

/** So many attempts are held: at 640×512 with six layers each has 8 MB. */
const MOST = 8;
const held = new Map<string, Promise<Pictures>>();

/** Fetch the rasters of a view of an attempt. Attempts are written once, so what was fetched stays true. */
export function attemptPictures(job: string, number: number, view = 0): Promise<Pictures> {
  const key = `${job}/${number}/${view}`;
  const known = held.get(key);
  if (known !== undefined) {
    held.delete(key);
    held.set(key, known);
    return known;
  }
  const asked = callApi("pictures", { job, number, ...(view === 0 ? {} : { view }) }).then(decodePictures);
  held.set(key, asked);
  asked.catch(() => held.delete(key));
  for (const old of held.keys()) {
    if (held.size <= MOST) break;
    held.delete(old);
  }
  return asked;
}
