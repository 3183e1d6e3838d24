/**
 * The code of every finding the project itself raises, with what it means and what to do about it
 * in general; the finding at hand says it of the case at hand. What has no row here does not
 * compile, so that every finding has a place to be read about.
 *
 *     codes["unit/missing"].what   // A figure stands without its unit, and more than one is possible.
 *
 * Checks of the library and of builds have codes of their own, told on the page of their subject.
 *
 * Must not know: how anything is found, how pages are written.
 */
import { figureCodes } from "./figure-codes";
import { textCodes } from "./text-codes";
import { workCodes } from "./work-codes";

export interface CodeRow {
  /** What is wrong, for someone who meets the code alone; one or two whole sentences. */
  readonly what: string;
  /** What to do about it. */
  readonly todo: string;
}

export const codes = { ...textCodes, ...figureCodes, ...workCodes };

export type OwnCode = keyof typeof codes;

/** What a `check` is called: its own `code`, or `check/` and its kind. */
export type CheckCode = string & { readonly isCodeOfCheck: true };

export type Code = OwnCode | CheckCode;

/** The row of a code; none for a check. */
export function rowOf(code: string): CodeRow | undefined {
  return Object.hasOwn(codes, code) ? codes[code as OwnCode] : undefined;
}
