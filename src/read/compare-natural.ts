// read: two file names → which comes first to a person.

/** Compare names so that runs of digits count as numbers: `frame-2` before `frame-10`.
 *  Upper and lower case are alike unless nothing else differs; no locale is asked, so that the order is the same on
 *  every machine. Numbers that are equal but written differently (`07`, `7`): the shorter first.
 *  @returns negative if `a` comes first, positive if `b` does, 0 only for equal names.
 */
export function compareNatural(a: string, b: string): number {
  const [left, right] = [tokens(a), tokens(b)];
  for (let i = 0; i < Math.min(left.length, right.length); i++) {
    const [p, q] = [left[i]!, right[i]!];
    const order =
      isDigits(p) && isDigits(q) ? compareDigits(p, q) : compareText(p.toLowerCase(), q.toLowerCase());
    if (order !== 0) return order;
  }
  return left.length - right.length || a.length - b.length || compareText(a, b);
}

function tokens(name: string): string[] {
  return name.match(/\d+|\D/g) ?? [];
}

function isDigits(token: string): boolean {
  return token >= "0" && token <= ":" && /^\d/.test(token);
}

/** By value, whatever the length: dates and counters may have more digits than a number holds. */
function compareDigits(a: string, b: string): number {
  const [p, q] = [a.replace(/^0+/, ""), b.replace(/^0+/, "")];
  return p.length - q.length || compareText(p, q);
}

function compareText(a: string, b: string): number {
  // A path comes before what lies deeper: the separator goes before every other character.
  if (a === b) return 0;
  if (a === "/") return -1;
  if (b === "/") return 1;
  return a < b ? -1 : 1;
}
