// page: the ends of the colours → a key with numbers beside it.
import { formatSignificant } from "../../core/format-quantity.js";
import { riseColourOn } from "../board/paint-rise.js";
import type { RiseLayer } from "../board/prepare-picture.js";
import { temperatureText } from "../show/show-temperature.js";
import { isDark, showNumber, temperature } from "../state/settings.js";

interface ColourKeyProps {
  /** Null where nothing is coloured. */
  readonly scaleK: { readonly low: number; readonly high: number } | null;
  readonly greyC: { readonly low: number; readonly high: number } | null;
  readonly layer: RiseLayer;
}

const STEPS = 48;
const LAYER_WORDS: Readonly<Record<RiseLayer, string>> = {
  rise: "Rise",
  modelled: "Rise that the sources make",
  left: "What the sources leave",
};

/** What the colours stand for. */
export function ColourKey({ scaleK, greyC, layer }: ColourKeyProps) {
  return (
    <p class="colour-key small">
      <span>{LAYER_WORDS[layer]}</span>
      {scaleK === null ? (
        <span class="dim">nothing stands out of the noise</span>
      ) : (
        <>
          <span>{showNumber(formatSignificant(scaleK.low, 2))}</span>
          <svg
            viewBox={`0 0 ${STEPS} 1`}
            preserveAspectRatio="none"
            shape-rendering="crispEdges"
            aria-hidden="true"
          >
            {Array.from({ length: STEPS }, (_, i) => (
              <rect
                key={i}
                x={i}
                width={1.05}
                height={1}
                fill={`rgb(${riseColourOn((i + 0.5) / STEPS, isDark.value).join(",")})`}
              />
            ))}
          </svg>
          <span>{showNumber(formatSignificant(scaleK.high, 3))} K</span>
        </>
      )}
      {greyC !== null && (
        <span class="dim">
          Grey: baseline,{" "}
          {showNumber(
            `${temperatureText(greyC.low, temperature.value)} to ${temperatureText(greyC.high, temperature.value)}`,
          )}
        </span>
      )}
    </p>
  );
}
