/**
 * Bytes as text and back: UTF-8, or UTF-16 where the byte-order mark at the start says so.
 *
 *     decodeText(bytes)              →   { text, encoding } or why it is none
 *     encodeText(text, encoding)     →   bytes that decode to the same
 *
 * Must not know: where the bytes are from.
 */

/** How a text was kept; `marked` where it begins with a byte-order mark. */
export interface Encoding {
  readonly name: "utf-8" | "utf-16le" | "utf-16be";
  readonly marked: boolean;
}

export interface DecodedText {
  /** Without the byte-order mark, line endings as they are. */
  readonly text: string;
  readonly encoding: Encoding;
}

/** `why` is for the person whose file it is. */
export interface NoText {
  readonly why: string;
}

export const utf8: Encoding = { name: "utf-8", marked: false };

export function decodeText(bytes: Uint8Array): DecodedText | NoText {
  if (begins(bytes, 0xff, 0xfe, 0, 0) || begins(bytes, 0, 0, 0xfe, 0xff)) return other("UTF-32");
  const encoding = encodingOf(bytes);
  try {
    // Zeros in what is no text can be valid UTF-8.
    const text = new TextDecoder(encoding.name, { fatal: true }).decode(bytes);
    if (!text.includes("\0")) return { text, encoding };
  } catch {
    if (encoding.name !== "utf-8") return { why: "it is damaged: it says it is UTF-16 and is not" };
  }
  const unmarked = unmarkedUtf16(bytes);
  if (unmarked) return other("UTF-16 without a byte-order mark");
  return bytes.includes(0) ? { why: "it is not a text file" } : other("not UTF-8 text");
}

export function encodeText(text: string, { name, marked }: Encoding): Uint8Array {
  const whole = marked ? `\uFEFF${text}` : text;
  if (name === "utf-8") return Buffer.from(whole, "utf8");
  const bytes = Buffer.from(whole, "utf16le");
  return name === "utf-16be" ? bytes.swap16() : bytes;
}

// ───────────────────────────── helpers ─────────────────────────────

function begins(bytes: Uint8Array, ...start: readonly number[]): boolean {
  return start.every((byte, index) => bytes[index] === byte);
}

function encodingOf(bytes: Uint8Array): Encoding {
  if (begins(bytes, 0xff, 0xfe)) return { name: "utf-16le", marked: true };
  if (begins(bytes, 0xfe, 0xff)) return { name: "utf-16be", marked: true };
  return { name: "utf-8", marked: begins(bytes, 0xef, 0xbb, 0xbf) };
}

function other(what: string): NoText {
  return { why: `it is ${what}; save it again with the encoding UTF-8` };
}

/** In texts of western letters every other byte is a zero. */
function unmarkedUtf16(bytes: Uint8Array): boolean {
  if (bytes.length < 4 || bytes.length % 2 !== 0) return false;
  const seen = Math.min(bytes.length, 1_000) & ~1;
  let even = 0;
  let odd = 0;
  for (let index = 0; index < seen; index += 2) {
    if (bytes[index] === 0) even++;
    if (bytes[index + 1] === 0) odd++;
  }
  const most = 0.4 * seen;
  return (even > most && odd === 0) || (odd > most && even === 0);
}
