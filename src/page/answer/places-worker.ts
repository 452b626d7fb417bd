// page: messages with rasters and thresholds → messages with the places that count.
import { type PlacesInput, placesAt } from "./places-input.js";

type Asked = { readonly id: number } & Omit<PlacesInput, "significance" | "rise"> &
  Partial<Pick<PlacesInput, "significance" | "rise">>;

let rasters: Pick<PlacesInput, "significance" | "rise"> | null = null;

addEventListener("message", ({ data }: MessageEvent<Asked>) => {
  const { id, significance, rise, ...words } = data;
  if (significance !== undefined && rise !== undefined) rasters = { significance, rise };
  if (rasters === null) return;
  postMessage({ id, places: placesAt({ ...rasters, ...words }) });
});
