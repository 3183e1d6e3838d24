/**
 * Findings about declarations of kinds, designations and tables.
 *
 *     findings.sayUnknown("name/unknown-kind", "there is no kind `weel`", "weel", anchor, ["wheel"])
 *
 * Must not know: what is declared.
 */
import type { OwnCode } from "../findings/codes";
import type { Anchor } from "./anchor";
import type { Finding } from "./finding";
import { nameHint, nearest } from "./spelling";

/** Tells what is wrong with declarations, all of it errors. */
export class DeclarationFindings {
  constructor(private readonly report: (finding: Finding) => void) {}

  say(code: OwnCode, message: string, anchor: Anchor, hint?: string): void {
    this.report({ code, severity: "error", message, hint, anchor });
  }

  /** A word that is not among those there are: says which one is near, and offers it. */
  sayUnknown(
    code: OwnCode,
    message: string,
    word: string,
    anchor: Anchor,
    known: readonly string[],
  ): void {
    const near = nearest(word, known);
    this.report({
      code,
      severity: "error",
      message,
      hint: nameHint(word, known),
      anchor,
      fixes:
        near === undefined
          ? []
          : [{ title: `write \`${near}\``, edits: [{ anchor, text: near }], preferred: true }],
    });
  }
}
