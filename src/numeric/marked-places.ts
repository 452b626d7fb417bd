// numeric: a mask → the places that it marks.
import { keptKernels, MOST_FOR_KERNELS, newOwner } from "./kernels.js";

const OWNER = newOwner();

/** List the places of a mask that are 1, in their order.
 *  By kernels, sixteen at a time: the language's own search looks at one after the other, a third of a millisecond for
 *  a frame of 640×480.
 *  @param mask not modified; anything but 1 is no mark.
 */
export function markedPlaces(mask: Uint8Array): Int32Array {
  return listed(mask, "markedPlaces", (value) => value === 1);
}

/** List the places of a mask that are not 0, in their order. @param mask not modified. */
export function placesNotZero(mask: Uint8Array): Int32Array {
  return listed(mask, "placesNotZero", (value) => value !== 0);
}

function listed(
  mask: Uint8Array,
  kernel: "markedPlaces" | "placesNotZero",
  counts: (value: number) => boolean,
): Int32Array {
  // Kernels of their own: the mask may lie in the memory of the shared ones.
  const kernels =
    mask.length > MOST_FOR_KERNELS ? null : (keptKernels("order", OWNER, () => {})?.clear() ?? null);
  if (kernels !== null) {
    const from = kernels.put(mask);
    const to = kernels.take(4 * mask.length);
    return kernels.integers(to, kernels.run[kernel](from, mask.length, to)).slice();
  }
  const places: number[] = [];
  for (let i = 0; i < mask.length; i++) if (counts(mask[i]!)) places.push(i);
  return Int32Array.from(places);
}
