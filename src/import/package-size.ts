// import: the name of a package or footprint → the size of its body, or null.
import type { RectangleSize } from "./import-options.js";
import { type BodySize, CHIP_SIZES, PACKAGE_SIZES } from "./package-sizes.js";

/** Names of packages are far shorter; a longer one is none, and would keep the patterns below busy. */
const LONGEST_NAME = 200;
/** Body sizes above this are no millimetres; the largest packages are about 60 mm (common practice, no source). */
const LARGEST_MM = 120;

/** Find the size of the body that a package name stands for. In this order:
 *  a name of the table of sizes; a name by IPC-7351 (RESC1608X55N, QFN50P500X500X80-32N; from memory); a size in the
 *  name (QFN-32 5x5mm); a chip code with its metric twin (0402-1005-metric); a chip code alone.
 *  @param codes what 0201, 0402 and 0603 mean, which are both imperial and metric codes.
 *  @param given sizes by name that go before all of these; names are compared without case, blanks and signs.
 *  @returns extents along x and y at no rotation; null if the name says nothing. */
export function packageSize(
  name: string,
  codes: "imperial" | "metric" = "imperial",
  given: Readonly<Record<string, RectangleSize>> = {},
): BodySize | null {
  const plain = plainName(name);
  if (plain === "" || name.length > LONGEST_NAME) return null;
  for (const [key, size] of Object.entries(given)) {
    if (plainName(key) === plain) return { xMm: size.widthMm, yMm: size.heightMm, source: "given" };
  }
  return (
    PACKAGE_SIZES.get(plain) ??
    // "diodes:D_SMA": without the library's name and the letter of the part.
    PACKAGE_SIZES.get(plainName(name.slice(name.lastIndexOf(":") + 1).replace(/^[A-Za-z]{1,2}_/, ""))) ??
    ipcSize(plain, name) ??
    statedSize(name) ??
    chipSize(name, codes) ??
    namedWithin(name)
  );
}

/** True if the name is a chip code that means another size in the other system. */
export function isAmbiguousChip(name: string): boolean {
  if (/metric/i.test(name) || PACKAGE_SIZES.has(plainName(name))) return false;
  const imperial = packageSize(name, "imperial");
  const metric = packageSize(name, "metric");
  return imperial !== null && metric !== null && imperial.xMm !== metric.xMm;
}

/** True if the name is a chip code that is a metric one only, without saying so itself. */
export function isMetricChip(name: string): boolean {
  if (name.length > LONGEST_NAME || /metric/i.test(name) || PACKAGE_SIZES.has(plainName(name))) return false;
  const codes: readonly string[] = name.match(CHIP_CODE) ?? [];
  const isOf = (system: 0 | 1) => CHIP_SIZES.some((chip) => codes.includes(chip[system]));
  return isOf(1) && !isOf(0);
}

function plainName(name: string): string {
  return name.toUpperCase().replace(/[^A-Z0-9]/g, "");
}

/** IPC-7351: chips and moulded two-poles carry their body in tenths of a millimetre, leadless packages in hundredths.
 *  Those with leads carry the span of the leads, which together with the pins tells the package. */
function ipcSize(plain: string, name: string): BodySize | null {
  const source = "size in the name by IPC-7351, from memory";
  const chip =
    /^(?:CAPC|RESC|INDC|FUSC|BEAC|THRMC|VARC|LEDC|DIOC|CAPMP|INDM|RESM|DIOM)(\d{2})(\d{2})X\d+/.exec(plain);
  if (chip !== null) return size(Number(chip[1]) / 10, Number(chip[2]) / 10, source);
  const dashed = name.toUpperCase().replace(/[^A-Z0-9-]/g, "");
  const grid = /^(?:P?QFN|P?SON|DFN|LGA|[A-Z]?BGA\d*C?)\d*P(?:\d+X\d+_)?(\d{3,4})X(\d{3,4})(?:X\d+)?-/.exec(
    dashed,
  );
  if (grid !== null) return size(Number(grid[1]) / 100, Number(grid[2]) / 100, source);
  for (const [pattern, family, ends] of LEADED) {
    const pins = pattern.exec(dashed)?.[1];
    if (pins !== undefined) return PACKAGE_SIZES.get(`${family}${pins}${ends}`) ?? null;
  }
  return null;
}

/** Pitch and lead span in an IPC-7351 name → the family in the table of sizes. */
const LEADED: readonly (readonly [RegExp, family: string, ends: string])[] = [
  [/^SO(?:IC|P)127P60[0-9]X\d+-(\d+)/, "SO", ""],
  [/^SO(?:IC|P)127P10[0-9]{2}X\d+-(\d+)/, "SO", "W"],
  [/^T?S?SOP65P6[34]0X\d+-(\d+)/, "TSSOP", ""],
  [/^T?S?SOP65P780X\d+-(\d+)/, "SSOP", ""],
  [/^[TM]?S?SOP(?:65|50)P490X\d+-(\d+)/, "MSOP", ""],
  [/^SOT95P2[34]\dX\d+-(3)/, "SOT23", ""],
  [/^SOT95P2[78]\dX\d+-([56])/, "SOT23", ""],
  [/^[LT]?QFP\d+P\d+X\d+X\d+-(\d+)/, "LQFP", ""],
];

/** "5x5mm", "3.9 x 4.9 mm": the first is the extent along x (common practice, no source). Without mm the numbers count
 *  only in families that are named by their body: a header 2x5 has that many pins. */
function statedSize(name: string): BodySize | null {
  const match = /(\d+(?:\.\d+)?)(?:mm)?\s*[x×]\s*(\d+(?:\.\d+)?)(?:\s*[x×]\s*\d+(?:\.\d+)?)?\s*(mm)?/i.exec(
    name,
  );
  if (match === null) return null;
  const byBody = /(?:QFN|DFN|SON|BGA|LGA|CSP|QFP|ELEC|XTAL|CRYSTAL)/i.test(name);
  if (match[3] === undefined && !byBody) return null;
  // A can that stands upright is named by its diameter and its height.
  const across = /(?:ELEC|RADIAL)/i.test(name) ? match[1] : match[2];
  return size(Number(match[1]), Number(across), "size in the name");
}

const CHIP_CODE = /(?<!\d)(?:0?\d{4}|008004)(?!\d)/g;

function chipSize(name: string, codes: "imperial" | "metric"): BodySize | null {
  const metric = /(?<!\d)(\d{4})[ _-]?(?:metric|M(?![A-Za-z]))/i.exec(name)?.[1];
  if (metric !== undefined) return CHIP_SIZES.find((chip) => chip[1] === metric)?.[2] ?? null;
  for (const code of name.match(CHIP_CODE) ?? []) {
    const first = codes === "imperial" ? 0 : 1;
    const found =
      CHIP_SIZES.find((chip) => chip[first] === code) ?? CHIP_SIZES.find((chip) => chip[1 - first] === code);
    if (found !== undefined) return found[2];
  }
  return null;
}

/** A name of the table among the words of a longer one: "small: SOIC-8", "SOT-23-5, long pads". The longest
 *  run of words goes first, so that SOT-23-5 is not read as SOT-23. */
function namedWithin(name: string): BodySize | null {
  const words = name
    .toUpperCase()
    .split(/[^A-Z0-9]+/)
    .filter((word) => word !== "")
    .slice(0, 12);
  for (let length = Math.min(4, words.length); length > 0; length--) {
    for (let first = 0; first + length <= words.length; first++) {
      const found = PACKAGE_SIZES.get(words.slice(first, first + length).join(""));
      // Letters alone (SMA, SMB) are too short to be sure of inside a longer name.
      if (found !== undefined && (length > 1 || /\d/.test(words[first]!))) return found;
    }
  }
  return null;
}

function size(xMm: number, yMm: number, source: string): BodySize | null {
  const possible = xMm > 0 && yMm > 0 && xMm <= LARGEST_MM && yMm <= LARGEST_MM;
  return possible ? { xMm, yMm, source } : null;
}
