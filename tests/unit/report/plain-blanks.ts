// What a person reads of a page: numbers are bound to their units there, so that no line ends between them.

/** A page with plain blanks in place of those that do not break. */
export function plainBlanks(html: string): string {
  return html.replaceAll("\u00a0", " ");
}
