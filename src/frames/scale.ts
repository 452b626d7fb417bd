// frames: the scale of a picture of levels, as two temperatures or as gain and offset.

/** °C at level 0 and at the largest level the format can hold. */
export interface RangeScale {
  readonly lowC: number;
  readonly highC: number;
}

/** °C = gainCPerLevel · level + offsetC; kelvin × 100 is 0.01 and −273.15. */
export interface LinearScale {
  readonly gainCPerLevel: number;
  readonly offsetC: number;
}

/** What turns levels into °C. */
export type Scale = RangeScale | LinearScale;

/** True for a scale given by gain and offset. */
export function isLinear(scale: Scale): scale is LinearScale {
  return "gainCPerLevel" in scale;
}

/** The same scale as gain and offset, for levels 0 … `maxLevel`. */
export function toLinear(scale: Scale, maxLevel: number): LinearScale {
  if (isLinear(scale)) return scale;
  return { gainCPerLevel: (scale.highC - scale.lowC) / maxLevel, offsetC: scale.lowC };
}

/** The same scale as the temperatures at its ends, for levels 0 … `maxLevel`. */
export function toRange(scale: Scale, maxLevel: number): RangeScale {
  if (!isLinear(scale)) return scale;
  return { lowC: scale.offsetC, highC: scale.offsetC + scale.gainCPerLevel * maxLevel };
}

/** A scale in words, for messages. */
export function scaleText(scale: Scale): string {
  return isLinear(scale)
    ? `gain ${scale.gainCPerLevel} °C per level, offset ${scale.offsetC} °C`
    : `${scale.lowC}:${scale.highC} °C`;
}
