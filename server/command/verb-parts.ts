/**
 * What the declarations of verbs have in common.
 *
 * Must not know: any one verb.
 */
import type { Operand, VerbOption } from "./verb";

export const build: Operand = { name: "file", says: "the build; - with --stdin" };
export const builds: Operand = {
  name: "files",
  says: "builds or folders; - with --stdin",
  many: true,
};

export function formats(...choices: string[]): VerbOption {
  return { flags: "--format <format>", says: "How to write it.", choices, default: choices[0] };
}

/** `a,b c` as well as `a b c`. */
export function separated(list: readonly string[]): string[] {
  return list
    .flatMap((each) => each.split(","))
    .map((each) => each.trim())
    .filter((each) => each !== "");
}
