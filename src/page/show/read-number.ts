// page: a number as it was typed, with comma or point → its value.

/** Read a number that was typed into a field. Comma and point both mark decimals; blanks do not count.
 *  @returns null where it is no number, or may mean two things (`1.234,5`).
 */
export function readNumber(typed: string): number | null {
  const text = typed
    .trim()
    .replace(/[\s\u00a0\u202f]/g, "")
    .replace("−", "-");
  if (!/^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)$/.test(text)) return null;
  const value = Number(text.replace(",", "."));
  return Number.isFinite(value) ? value : null;
}
