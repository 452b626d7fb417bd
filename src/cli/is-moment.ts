// cli: a word → whether it is a moment with its offset, as `momentSchema` of a job says, without loading what that
// needs: half of what `--help` would take.

const MOMENT =
  /^(\d{4})-(\d\d)-(\d\d)T(?:[01]\d|2[0-3]):[0-5]\d:[0-5]\d(?:\.\d+)?(?:Z|[+-](?:[01]\d|2[0-3]):[0-5]\d)$/;

/** True for a moment as RFC 3339 writes it, with seconds and with Z or an offset. */
export function isMoment(word: string): boolean {
  const found = MOMENT.exec(word);
  if (found === null) return false;
  const [year, month, day] = found.slice(1, 4).map(Number) as [number, number, number];
  return month >= 1 && month <= 12 && day >= 1 && day <= daysIn(year, month);
}

function daysIn(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}
