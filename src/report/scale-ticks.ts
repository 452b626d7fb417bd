// report: the ends of a scale → round numbers between them.

/** Choose round numbers (1, 2 or 5 times a power of ten apart) for the ticks of a scale.
 *  @param low,high ends of the scale, low < high; otherwise the result is empty.
 *  @param most the largest number of ticks that fit.
 *  @returns ticks inside the ends with the decimals they need, ascending.
 */
export function scaleTicks(low: number, high: number, most: number): { at: number; text: string }[] {
  if (!(high > low) || !Number.isFinite(low) || !Number.isFinite(high) || most < 1) return [];
  const step = roundStep((high - low) / most);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const ticks: { at: number; text: string }[] = [];
  const slack = (high - low) * 1e-9;
  for (let n = Math.ceil((low - slack) / step); n * step <= high + slack; n++) {
    const at = n * step;
    ticks.push({
      at,
      text: at
        .toFixed(decimals)
        .replace(/^-(?=0(\.0*)?$)/, "")
        .replace("-", "−"),
    });
  }
  return ticks;
}

/** The smallest round step that is not below `least`. */
function roundStep(least: number): number {
  const power = Number(`1e${Math.floor(Math.log10(least))}`);
  for (const factor of [1, 2, 5]) if (factor * power >= least * (1 - 1e-9)) return factor * power;
  return 10 * power;
}
