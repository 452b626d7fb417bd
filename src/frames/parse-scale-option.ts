// frames: the words `LO:HI` → a scale.
import { type ErrorPlace, ToolError } from "../core/errors.js";
import type { LinearScale, RangeScale } from "./scale.js";

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

/** Read a scale such as `20:45` or `-20.5:150`: °C at level 0, °C at the largest level.
 *  @param place where the words stand, if not on the command line.
 *  @throws ToolError E_SCALE_VALUE if there are not two numbers, or the first is not the smaller one.
 */
export function parseScaleOption(text: string, place?: ErrorPlace): RangeScale {
  const parts = text.split(":");
  if (parts.length !== 2) {
    throw scaleError(`a scale is written LO:HI, two numbers with a colon between, not "${text}"`, place);
  }
  const [lowC, highC] = [readNumber(parts[0]!, "LO", place), readNumber(parts[1]!, "HI", place)];
  if (lowC >= highC) {
    throw scaleError(`LO must be below HI, but ${lowC} °C is not below ${highC} °C`, place);
  }
  return { lowC, highC };
}

/** Make a scale from gain and offset: °C = gain · level + offset.
 *  @throws ToolError E_SCALE_VALUE if one is not finite or the gain is 0.
 */
export function linearScale(gainCPerLevel: number, offsetC: number, place?: ErrorPlace): LinearScale {
  if (!Number.isFinite(gainCPerLevel) || gainCPerLevel === 0) {
    throw scaleError(`the gain must be a number other than 0, not ${gainCPerLevel}`, place);
  }
  if (!Number.isFinite(offsetC)) throw scaleError(`the offset must be a number, not ${offsetC}`, place);
  return { gainCPerLevel, offsetC };
}

function readNumber(part: string, name: string, place?: ErrorPlace): number {
  const text = part.trim().replace(/^\u2212/, "-");
  const value = Number(text);
  if (NUMBER.test(text) && Number.isFinite(value)) return value;
  const comma = /^[+-]?\d+,\d+$/.test(text) ? " (write decimals with a point)" : "";
  throw scaleError(`${name} of the scale must be a number of °C, not "${part.trim()}"${comma}`, place);
}

function scaleError(problem: string, place?: ErrorPlace): ToolError {
  return new ToolError("E_SCALE_VALUE", {
    problem,
    fix: "Give the temperatures of black and white, such as --scale 20:45",
    ...(place === undefined ? {} : { place }),
  });
}
