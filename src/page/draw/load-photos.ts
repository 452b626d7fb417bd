// page: photos of the inbox, or one that is chosen here → pictures that can lie under the board.
import { CallError, type callApi } from "../../api/call-api.js";
import { addressOf } from "../../api/endpoints.js";
import { announceError } from "../state/announce.js";
import type { DrawSession, Picture } from "./draw-session.js";
import { say } from "./say.js";

/** A photo that was just sent is read again this often, with a pause between, ms. */
const TRIES = 5;
const PAUSE_MS = 400;

/** Add the photos of the inbox to the pictures, each as soon as its size is known. */
export async function loadPhotos(
  session: DrawSession,
  photos: readonly { readonly sha256: string; readonly name: string }[],
): Promise<void> {
  const known = new Set(session.pictures.value.map(({ key }) => key));
  await Promise.all(
    photos
      .filter(({ sha256 }) => !known.has(sha256))
      .map(async (photo) => {
        try {
          addPicture(session, await measurePhoto(session.props.job, photo));
        } catch (error) {
          announceError(error);
        }
      }),
  );
}

/** Send a photo to the job's inbox, and show it. */
export async function sendPhoto(session: DrawSession, file: File, call: typeof callApi): Promise<void> {
  const { job } = session.props;
  const { file: sent } = await call("addToInbox", { job, name: file.name, bytes: file });
  for (let attempt = 1; ; attempt++) {
    try {
      addPicture(session, await measurePhoto(job, { sha256: sent.sha256, name: file.name }));
      session.shown.value = sent.sha256;
      say(`The photo ${file.name} is there; pick its fiducials`);
      return;
    } catch (error) {
      if (attempt === TRIES) throw error;
      await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
    }
  }
}

function addPicture(session: DrawSession, picture: Picture): void {
  const { pictures, shown } = session;
  if (pictures.value.some(({ key }) => key === picture.key)) return;
  pictures.value = [...pictures.value, picture];
  shown.value ??= picture.key;
}

async function measurePhoto(
  job: string,
  { sha256, name }: { sha256: string; name: string },
): Promise<Picture> {
  const address = addressOf("inboxPhoto", { job, sha256 });
  const image = new Image();
  image.src = address;
  try {
    await image.decode();
  } catch {
    throw new CallError(0, {
      code: "FAULT",
      problem: `the photo ${name} can't be shown`,
      fix: "Give it as JPEG, PNG or WebP",
      place: null,
    });
  }
  return { key: sha256, name, width: image.naturalWidth, height: image.naturalHeight, data: null, address };
}
