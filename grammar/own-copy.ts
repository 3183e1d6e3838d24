/**
 * A part of a text that does not keep the whole of it alive, as a slice does.
 *
 * Must not know: what is cut out of what.
 */
export function ownCopy(part: string): string {
  return ` ${part}`.slice(1);
}
