/**
 * What a file declares, and what is told of it.
 *
 *     declared("table loads { … }")   →   { vocabulary, told: ["table/no-key `loads`"] }
 */
import { textAt } from "../../grammar/anchor";
import { parseFile } from "../../grammar/source-file";
import type { FieldType, Vocabulary } from "../../server/model/definition";
import { buildVocabulary, emptyVocabulary } from "../../server/model/vocabulary";

export const uri = "file:///shop/build.trammel";

export function declared(text: string): { vocabulary: Vocabulary; told: string[] } {
  const told: string[] = [];
  const file = { uri, source: parseFile(text), library: false };
  const vocabulary = buildVocabulary([file], emptyVocabulary, ({ is, anchor }) =>
    told.push(`${is} \`${textAt(anchor)}\``),
  );
  return { vocabulary, told };
}

export function typeText(type: FieldType): string {
  switch (type.form) {
    case "measure": {
      const { name, own, inch, metric } = type.measure;
      return own ? `${name} in ${inch.unit} or ${metric.unit}` : name;
    }
    case "choice":
      return `one of ${type.choices.join(" ")}`;
    case "designation":
      return `designation ${type.designation.name}`;
    case "reference":
    case "part":
      return `${type.form} ${type.kind}`;
    case "list":
      return `list of ${typeText(type.of)}`;
    default:
      return type.form;
  }
}
