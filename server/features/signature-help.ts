/**
 * What a function or table takes, while its parentheses are being filled.
 *
 *     signatureHelp(analysis, uri, offset)   →   round(value, [step]), on the second of the two
 *
 * Must not know: how answers travel.
 */
import type { SignatureHelp } from "vscode-languageserver";
import type { Analysis } from "../analysis/analysis";
import { typeInWords } from "./figures";
import { functions, signature } from "./functions";

const farthest = 2_000;

export function signatureHelp(
  analysis: Analysis,
  uri: string,
  offset: number,
): SignatureHelp | undefined {
  const source = analysis.sourceOf(uri);
  const call = source === undefined ? undefined : callAround(source.text, offset);
  if (call === undefined) return undefined;
  const [first = "", columnName] = call.name.split(".");
  const help = functions.get(call.name);
  if (help !== undefined) {
    const last = help.takes.length - 1;
    return {
      signatures: [
        {
          label: signature(call.name, help),
          documentation: help.says,
          parameters: help.takes.map((each, index) => ({
            label:
              help.optionalFrom !== undefined && index >= help.optionalFrom
                ? `[${each.name}]`
                : each.name,
            documentation: each.says,
          })),
        },
      ],
      activeSignature: 0,
      activeParameter: help.repeats === true ? Math.min(call.argument, last) : call.argument,
    };
  }
  const table = analysis.vocabulary.tables.get(first);
  if (table === undefined) return undefined;
  const keys = table.columns.filter((column) => column.key);
  return {
    signatures: [
      {
        label: `${call.name}(${keys.map((key) => key.name).join(", ")})`,
        documentation: columnName === undefined ? table.title : `${table.title}: ${columnName}`,
        parameters: keys.map((key) => ({
          label: key.name,
          documentation: [key.description, typeInWords(key.type)]
            .filter((text) => text !== undefined)
            .join("; "),
        })),
      },
    ],
    activeSignature: 0,
    activeParameter: call.argument,
  };
}

// ───────────────────────────── helpers ─────────────────────────────

/** The name before the innermost open parenthesis, and which argument the cursor is in. */
function callAround(text: string, offset: number): { name: string; argument: number } | undefined {
  let depth = 0;
  let argument = 0;
  for (let at = offset - 1; at >= Math.max(0, offset - farthest); at--) {
    const letter = text[at];
    if (letter === ")" || letter === "]") depth++;
    else if (letter === "[") depth--;
    else if (letter === "," && depth === 0) argument++;
    else if (letter === "{" || letter === "}") return undefined;
    else if (letter === "(") {
      if (depth > 0) {
        depth--;
        continue;
      }
      const name = /[\p{L}_][\p{L}\p{N}_]*(?:\.[\p{L}_][\p{L}\p{N}_]*)*$/u.exec(
        text.slice(Math.max(0, at - 100), at),
      )?.[0];
      if (name !== undefined) return { name, argument };
      argument = 0;
    }
  }
  return undefined;
}
