/**
 * The boundary for what others wrote: titles, descriptions, sources, notes, names of files. Whatever
 * goes to a terminal, into Markdown, HTML or SVG, or into the log of a job passes through one of
 * these first, so that it is read as words and never as a command, a picture or a link.
 *
 *     forTerminal("a\u001b[2Jb")          →   "a␛[2Jb"
 *     forMarkdown("![x](https://x.test)")  →   shows those very characters
 *
 * Imports nothing and knows nothing of builds: any room may use it.
 */

/** One line for a terminal: what would move the cursor, color or reorder it is shown as a sign. */
export function forTerminal(text: string): string {
  return text.replace(unseen, sign);
}

/** A whole line of output: besides, no service that reads it takes it for a command. */
export function forOutputLine(line: string): string {
  return withoutCommands(forTerminal(line).replace(/^(\s*):(?=:)/, "$1: "));
}

/** Words of one line for Markdown, shown as they are. */
export function forMarkdown(text: string): string {
  return (
    forTerminal(text)
      .replace(/[\\`*_[\]<>|~]/g, "\\$&")
      .replace(/&(?=#?\w)/g, "&amp;")
      // What looks like an address would be made a link.
      .replace(/:(?=\/\/)/g, "&#58;")
      .replace(/(www)\./gi, "$1&#46;")
      .replace(/(mailto|xmpp):/gi, "$1&#58;")
      .replace(/(?<=\S)@(?=\S)/g, "&#64;")
      // At the beginning of a line these would make headings, lists, quotes, rules.
      .replace(/^(\s*)([#+=-]|\d+(?=[.)]))/, (_, blank: string, mark: string) =>
        /\d/.test(mark) ? `${blank}${mark}\\` : `${blank}\\${mark}`,
      )
  );
}

/** Words of one line as code in Markdown: in as many backticks as it takes. */
export function codeForMarkdown(text: string): string {
  const shown = forTerminal(text);
  const longest = Math.max(0, ...[...shown.matchAll(/`+/g)].map(([run]) => run.length));
  const fence = "`".repeat(longest + 1);
  const blank = /^`|`$|^ .* $/.test(shown) ? " " : "";
  // In a table a bar ends the cell even in code.
  return `${fence}${blank}${shown.replaceAll("|", "\\|")}${blank}${fence}`;
}

/**
 * Text or the value of an attribute, in either sort of quotes, for HTML and SVG; no line of what is
 * written so begins with a word of its own.
 */
export function forHtml(text: string): string {
  return text
    .replace(/[&<>"'`]/g, (character) => entities[character] ?? character)
    .replaceAll("\n", "&#10;")
    .replace(/##(?=\[|vso\[)/gi, "#&#35;")
    .replace(unseen, sign);
}

/** The message of a workflow command in the log of a job, which ends with its line. */
export function forJobLog(text: string): string {
  return withoutCommands(
    text
      .replaceAll("%", "%25")
      .replaceAll("\r", "%0D")
      .replaceAll("\n", "%0A")
      .replace(unseen, sign),
  );
}

/** A property of a workflow command, such as the name of a file. */
export function forJobLogProperty(text: string): string {
  return forJobLog(text).replaceAll(":", "%3A").replaceAll(",", "%2C");
}

/** A message of SARIF (3.11.6): nothing in it is a link. */
export function forSarif(text: string): string {
  return text.replace(/\[(?=[^\]]*\]\()/g, "\\[");
}

/** JSON that says the same and holds nothing that a terminal would act upon. */
export function forJson(json: string): string {
  const escaped = json.replace(
    unseenButLines,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
  // Only in texts can two of these stand side by side.
  return escaped.replace(/##(?=\[|vso\[)/gi, "#\\u0023");
}

// ───────────────────────────── helpers ─────────────────────────────

/** Some services look for their commands anywhere in a line. */
function withoutCommands(text: string): string {
  return text.replace(/##(?=\[|vso\[)/gi, "# #");
}

// Control characters, those that reorder a line, those that end one, halves of characters.
const acting =
  "\\u0000-\\u0008\\u000B-\\u001F\\u007F-\\u009F\\u061C\\u200E\\u200F\\u2028-\\u202E\\u2066-\\u2069\\uFEFF";
const halves = "[\\uD800-\\uDBFF](?![\\uDC00-\\uDFFF])|(?<![\\uD800-\\uDBFF])[\\uDC00-\\uDFFF]";
const unseen = new RegExp(`[\\t\\n${acting}]|${halves}`, "g");
const unseenButLines = new RegExp(`[${acting}]|${halves}`, "g");

/** Unicode has pictures of the first control characters. */
function sign(character: string): string {
  const code = character.charCodeAt(0);
  if (code === 9) return " ";
  if (code < 0x20) return String.fromCharCode(0x2400 + code);
  return code === 0x7f ? "\u2421" : "\uFFFD";
}

const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
  "`": "&#96;",
};
