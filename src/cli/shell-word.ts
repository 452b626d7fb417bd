// cli: any text → a word that bash and zsh take as it stands.

/** Put a text into single quotes. */
export function shellWord(text: string): string {
  return `'${text.replaceAll("'", `'\\''`)}'`;
}
