/**
 * Tells a number sign from the beginning of a comment: right behind a colon, `#10-32` is a value.
 *
 *     opensComment("thread: #10-32", 8)  // false
 *     opensComment("count: 4  # of #10-32", 10)  // true
 *
 * Must not know: what a numbered size is.
 */

/** True where the `#` at `at` begins a comment. */
export function opensComment(text: string, at: number): boolean {
  numbered.lastIndex = at;
  if (!numbered.test(text)) return true;
  let before = at - 1;
  while (text[before] === " " || text[before] === "\t") before--;
  return text[before] !== ":";
}

const numbered = /#\d+-\d/y;
