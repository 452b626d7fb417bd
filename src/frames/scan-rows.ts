// frames: the bytes of lines → the numbers in them, and of what sort each line is.
import { closingQuote } from "./find-lines.js";
import { readOddField } from "./read-odd-field.js";

/** How a text matrix is written; both are the code of an ASCII character. `separator` 32 means runs of blanks. */
export interface Dialect {
  readonly separator: number;
  readonly decimal: number;
}

/** The fields of the lines scanned so far; one entry per line in all but `values`. */
export interface RowTable {
  /** All fields one after another; NaN for no reading and for text. */
  values: Float64Array;
  used: number;
  readonly starts: number[];
  readonly counts: number[];
  /** Fields that are numbers. */
  readonly numerics: number[];
  /** Fields after the first that are neither numbers nor words for no reading. */
  readonly texts: number[];
  /** Column (from 0) of the first such field, −1 if there is none. */
  readonly textColumns: number[];
  readonly flags: number[];
}

/** The first field is text. */
export const FIRST_TEXT = 1;
/** The first field is empty. */
export const FIRST_EMPTY = 2;
/** The last field is empty. */
export const LAST_EMPTY = 4;
/** A number of the line is written with decimals or an exponent. */
export const HAS_DECIMALS = 8;
/** The line holds nothing but blanks and separators. */
export const BLANK = 16;

const TAB = 9;
const LF = 10;
const SPACE = 32;
const QUOTE = 34;
const COMMA = 44;
/** One character for every byte, so that places in the text are places in the bytes. */
const LATIN = new TextDecoder("latin1");
const WHOLE = /^[+-]?\d+$/;
/** 10⁰ … 10²², all exact. */
export const POWERS_OF_TEN = Float64Array.from({ length: 23 }, (_, i) => Number(`1e${i}`));
/** Bytes of a field that is put together letter by letter. */
const SHORT_FIELD = 64;
/** Most digits whose whole number is always exact in a double (10¹⁵ < 2⁵³). */
const EXACT_DIGITS = 15;
/** Most digits whose whole number always fits 32 bits with a sign. */
const INT32_DIGITS = 9;

/** Make an empty table with room for about `fields` fields; it grows as needed. */
export function createRowTable(fields: number): RowTable {
  const values = new Float64Array(Math.max(64, fields));
  return { values, used: 0, starts: [], counts: [], numerics: [], texts: [], textColumns: [], flags: [] };
}

/** Scan one line and add it to the table.
 *  Method: up to 15 digits and a power of ten up to 10²² are exact doubles, so that one multiplication or
 *  division rounds correctly (W. D. Clinger, "How to read floating point numbers accurately", PLDI 1990,
 *  doi 10.1145/93542.93557); any other number goes through `Number`.
 */
export function scanRow(
  table: RowTable,
  bytes: Uint8Array,
  from: number,
  to: number,
  dialect: Dialect,
): void {
  if (to < bytes.length) {
    scanClosedRow(table, bytes, from, to, dialect);
    return;
  }
  const closed = new Uint8Array(to - from + 1);
  closed.set(bytes.subarray(from, to));
  closed[to - from] = LF;
  scanClosedRow(table, closed, 0, to - from, dialect);
}

/** The byte at `to` is a line end: it stops the loops, so that they need not ask for the end at every byte. */
function scanClosedRow(table: RowTable, bytes: Uint8Array, from: number, to: number, dialect: Dialect): void {
  const { separator } = dialect;
  const decimalComma = dialect.decimal === COMMA;
  // Where the comma separates, a decimal comma can only stand inside quotes, which is not the fast way.
  const decimal = dialect.decimal === separator ? -1 : dialect.decimal;
  const blanks = separator === SPACE;
  let values = table.values;
  let used = table.used;
  const first = used;
  let numeric = 0;
  let texts = 0;
  let textColumn = -1;
  let flags = 0;
  let decimals = 0;
  let empties = 0;
  let line: string | null = null;
  let p = from;
  for (;;) {
    let c = bytes[p]!;
    while (c === SPACE || (c === TAB && separator !== TAB)) c = bytes[++p]!;
    if (blanks && p >= to) break;
    if (used === values.length) {
      values = new Float64Array(used * 2);
      values.set(table.values);
      table.values = values;
    }
    const fieldStart = p;
    const negative = c === 45;
    if (negative || c === 43) c = bytes[++p]!;
    const digitsStart = p;
    // Whole numbers of 32 bits while they last: nine digits always fit, the rest is read again below.
    let mantissa = 0;
    let digit = c - 48;
    while (digit >>> 0 < 10) {
      mantissa = Math.imul(mantissa, 10) + digit;
      digit = bytes[++p]! - 48;
    }
    let digits = p - digitsStart;
    let exponent = 0;
    if (digit + 48 === decimal) {
      const fractionStart = ++p;
      digit = bytes[p]! - 48;
      while (digit >>> 0 < 10) {
        mantissa = Math.imul(mantissa, 10) + digit;
        digit = bytes[++p]! - 48;
      }
      exponent = fractionStart - p;
      digits -= exponent;
      decimals = HAS_DECIMALS;
    }
    let size = mantissa;
    if (digits > INT32_DIGITS) size = wideMantissa(bytes, digitsStart, p);
    let plain = digits > 0;
    c = digit + 48;
    if (plain && (c === 101 || c === 69)) {
      const power = readPower(bytes, p + 1);
      p = power.end;
      plain = power.digits > 0;
      exponent += power.value;
      c = bytes[p]!;
      decimals = HAS_DECIMALS;
    }
    const numberEnd = p;
    while (c === SPACE || (c === TAB && separator !== TAB)) c = bytes[++p]!;
    if (plain && (p >= to || c === separator || (blanks && p > numberEnd))) {
      if (digits <= EXACT_DIGITS && exponent >= -22 && exponent <= 22) {
        size = exponent < 0 ? size / POWERS_OF_TEN[-exponent]! : size * POWERS_OF_TEN[exponent]!;
        values[used] = negative ? -size : size;
      } else {
        line ??= LATIN.decode(bytes.subarray(from, to));
        const text = line.slice(fieldStart - from, numberEnd - from);
        values[used] = Number(decimalComma ? text.replace(",", ".") : text);
      }
      numeric++;
    } else {
      const quoted = fieldStart < to && bytes[fieldStart] === QUOTE;
      const close = quoted ? closingQuote(bytes, fieldStart, to) : -1;
      p = close >= 0 ? close + 1 : fieldStart;
      while (p < to && bytes[p] !== separator && !(blanks && isBlank(bytes[p]!))) p++;
      const text = fieldText(bytes, fieldStart, p);
      const field = readOddField(text, decimalComma);
      values[used] = field.value;
      if (field.kind === "number") {
        numeric++;
        if (!WHOLE.test(text)) decimals = HAS_DECIMALS;
      } else if (field.kind === "empty") {
        empties++;
        if (used === first) flags |= FIRST_EMPTY;
        if (p >= to) flags |= LAST_EMPTY;
      } else if (field.kind === "text") {
        if (used === first) flags |= FIRST_TEXT;
        else if (texts++ === 0) textColumn = used - first;
      }
    }
    used++;
    if (p >= to) break;
    if (!blanks) p++;
  }
  const count = used - first;
  if (empties === count) flags |= BLANK;
  table.used = used;
  table.starts.push(first);
  table.counts.push(count);
  table.numerics.push(numeric);
  table.texts.push(texts);
  table.textColumns.push(textColumn);
  table.flags.push(flags | decimals);
}

/** The digits of a number, its decimal mark left out, as an exact double (up to 15 digits). */
function wideMantissa(bytes: Uint8Array, from: number, to: number): number {
  let mantissa = 0;
  for (let p = from; p < to; p++) {
    const digit = bytes[p]! - 48;
    if (digit >>> 0 < 10) mantissa = mantissa * 10 + digit;
  }
  return mantissa;
}

/** The power of ten after an `e`. */
function readPower(bytes: Uint8Array, from: number): { value: number; digits: number; end: number } {
  let p = from;
  const down = bytes[p] === 45;
  if (down || bytes[p] === 43) p++;
  const start = p;
  let value = 0;
  // Beyond three digits every power is out of a double's range, whatever follows.
  while (bytes[p]! >= 48 && bytes[p]! <= 57) {
    if (value < 1000) value = value * 10 + bytes[p]! - 48;
    p++;
  }
  return { value: down ? -value : value, digits: p - start, end: p };
}

/** The text of a field, without the quotes around it and with doubled quotes undone. */
export function fieldText(bytes: Uint8Array, from: number, to: number): string {
  let text = "";
  // Letter by letter is the quicker way for short fields, and takes too much memory for very long ones.
  let ascii = to - from <= SHORT_FIELD;
  for (let i = from; ascii && i < to; i++) {
    const c = bytes[i]!;
    if (c >= 128) ascii = false;
    text += String.fromCharCode(c);
  }
  if (!ascii) text = new TextDecoder().decode(bytes.subarray(from, to));
  text = text.trim();
  const quoted = text.length >= 2 && text.startsWith('"') && text.endsWith('"');
  return quoted ? text.slice(1, -1).replaceAll('""', '"') : text;
}

function isBlank(c: number): boolean {
  return c === SPACE || c === TAB;
}
