/** Numbers that look drawn and are the same each time, and small turns of writing builds with them. */

export type Roll = (below: number) => number;

/** Whole numbers from 0, below the one asked for; the same row for the same number (mulberry32). */
export function rollsOf(seed: number): Roll {
  let state = (seed + 1) * 0x9e3779b9;
  return (below) => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((((mixed ^ (mixed >>> 14)) >>> 0) * below) / 4294967296) | 0;
  };
}

export function pick(choices: readonly string[], roll: Roll): string {
  return choices[roll(choices.length)] ?? "";
}

/** The lines of a text without blank ones at its beginning and with one at its end. */
export function text(written: string): string[] {
  return [...written.trim().split("\n"), ""];
}

export function range(count: number): number[] {
  return Array.from({ length: count }, (_, index) => index);
}

export function padded(number: number): string {
  return String(number).padStart(4, "0");
}

export function twoDigits(number: number): string {
  return String(number).padStart(2, "0");
}
