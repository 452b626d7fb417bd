// import: any text ↔ the value of an attribute in XML, which can't hold every character.

// XML 1.0, production 2: everything else can't stand in a document, not even as a reference.
const NOT_IN_XML =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what this looks for.
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Surrogate}/u;

/** Write a text as the value of an attribute, without its quotes. A text that XML can't hold, or that begins like one
 *  written so, is written as a JSON string inside it. */
export function attributeText(text: string): string {
  const held = NOT_IN_XML.test(text) || text.startsWith('"');
  return escapeXml(held ? JSON.stringify(text).replace(/[\ufffe\uffff]/g, hexEscape) : text);
}

/** Read back what `attributeText` wrote, after the parser has taken its references away. */
export function textOfAttribute(value: string): string {
  if (!value.startsWith('"')) return value;
  try {
    const text: unknown = JSON.parse(value);
    return typeof text === "string" ? text : value;
  } catch {
    return value;
  }
}

/** Write a text as the content of an element; what XML can't hold becomes a replacement character. */
export function contentText(text: string): string {
  return escapeXml(text.replace(new RegExp(NOT_IN_XML, "gu"), "\ufffd"));
}

/** Beside what XML wants escaped, what a terminal or a reader's eye would obey: upper control characters, marks that
 *  turn the reading direction, characters of no width. */
function escapeXml(text: string): string {
  return text.replace(
    /[&<>"'\t\n\r\u007f-\u009f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]/g,
    (letter) => `&#${letter.charCodeAt(0)};`,
  );
}

function hexEscape(letter: string): string {
  return `\\u${letter.charCodeAt(0).toString(16).padStart(4, "0")}`;
}
