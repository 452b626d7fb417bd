// page: baseline and photos → which one lies under the board, which side it shows, and one more from a file.

import { callApi } from "../../api/call-api.js";
import { announceError } from "../state/announce.js";
import { ChoiceField } from "./choice-field.js";
import type { DrawSession } from "./draw-session.js";
import { setPictureSide, shownPlacement } from "./fiducial-actions.js";
import { loadPhotos, sendPhoto } from "./load-photos.js";

/** What browsers show, and what the server turns into it. */
const PHOTOS = "image/png,image/jpeg,image/webp,image/heic,image/heif,.heic,.heif";

/** Choose the picture. */
export function PictureChoice({ session }: { readonly session: DrawSession }) {
  const { pictures, shown, mode, isEvened } = session;
  const placement = shownPlacement(session);
  const choices = {
    ...(mode.value === "draw" ? { "": "no picture" } : {}),
    ...Object.fromEntries(pictures.value.map(({ key, name }) => [key, name])),
  };
  return (
    <div class="draw-row">
      <ChoiceField
        label="Picture"
        value={shown.value ?? ""}
        choices={choices}
        onSet={(key) => {
          shown.value = key === "" ? null : key;
          session.fiducial.value = null;
        }}
      />
      {mode.value === "place" && placement !== null && (
        <ChoiceField
          label="It shows"
          value={placement.side}
          choices={{ top: "the top side", bottom: "the bottom side" }}
          onSet={(side) => setPictureSide(session, side === "bottom" ? "bottom" : "top")}
        />
      )}
      {(session.picture.value?.data ?? null) !== null && (
        <label class="draw-check">
          <input
            type="checkbox"
            checked={isEvened.value}
            onChange={(event) => {
              isEvened.value = event.currentTarget.checked;
            }}
          />
          Bring out edges
        </label>
      )}
      <label class="draw-file">
        <span>Add a photo of the board</span>
        <input
          type="file"
          accept={PHOTOS}
          onChange={(event) => {
            const [file] = event.currentTarget.files ?? [];
            event.currentTarget.value = "";
            if (file) sendPhoto(session, file, session.props.call ?? callApi).catch(announceError);
          }}
        />
      </label>
    </div>
  );
}

/** Follow the photos that come into the inbox. */
export function followPhotos(session: DrawSession, photos: DrawSession["props"]["photos"]): void {
  loadPhotos(session, photos).catch(announceError);
}
