// cli: rows of cells → lines of text in columns.

/** A column: its title, and whether its cells stand right. */
export interface TextColumn {
  readonly title: string;
  readonly right?: boolean;
}

/** Lay rows out in columns two spaces apart; columns without any content are left out.
 *  @param rows one cell a column; cells must already be safe to print.
 *  @returns lines without a line end, the titles first.
 */
export function textTable(columns: readonly TextColumn[], rows: readonly (readonly string[])[]): string[] {
  const kept = columns.map((_, i) => i).filter((i) => rows.some((row) => (row[i] ?? "") !== ""));
  const widths = kept.map((i) =>
    Math.max(textWidth(columns[i]!.title), ...rows.map((row) => textWidth(row[i] ?? ""))),
  );
  const line = (cells: readonly string[]): string =>
    kept
      .map((i, at) => {
        const cell = cells[i] ?? "";
        const space = " ".repeat(widths[at]! - textWidth(cell));
        return columns[i]!.right === true ? space + cell : cell + space;
      })
      .join("  ")
      .trimEnd();
  return [line(columns.map((column) => column.title)), ...rows.map(line)];
}

/** Columns that a text takes in a terminal: Han, kana, hangul and full-width forms take two, combining marks none. */
export function textWidth(text: string): number {
  let width = 0;
  for (const character of text) {
    if (/\p{Mark}/u.test(character)) continue;
    width +=
      /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\u3000-\u303f\uff01-\uff60]/u.test(
        character,
      )
        ? 2
        : 1;
  }
  return width;
}
