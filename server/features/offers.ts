/**
 * What completion offers: names, kinds, units, words, each with what is put in when it is taken.
 *
 * Must not know: where the cursor is.
 */
import { type CompletionItem, CompletionItemKind, MarkupKind } from "vscode-languageserver";
import { roleWords } from "../../grammar/words";
import type { DesignationDefinition, FieldDefinition, KindDefinition } from "../model/definition";
import { both } from "../names/follow";
import type { FileScope } from "../names/scope";
import { forMarkdown } from "../text/untrusted-text";
import { type Measure, measures } from "../units";
import { formInWords, inWords, typeInWords } from "./figures";
import type { Holder } from "./holder";

/** `text`: what is put in, with places to fill in as `${1:name}`; the label where it is left out. */
export type CompletionOffer = Pick<
  CompletionItem,
  "label" | "kind" | "detail" | "documentation" | "sortText"
> & {
  readonly text?: string;
};

/** More than this nobody looks through. */
export const mostOffers = 400;

/** `both` of two parts that are twins. */
export const plainBoth: CompletionOffer = {
  label: both,
  kind: CompletionItemKind.Keyword,
  sortText: "5both",
};

export function bothOffer(twins: readonly FieldDefinition[]): CompletionOffer {
  return {
    ...plainBoth,
    detail: `what is said of ${twins.map(({ name }) => name).join(" and ")} alike`,
    text: `${both} {\n\t$0\n}`,
  };
}

export function childrenOf(holder: Holder): CompletionOffer[] {
  return [...(holder.thing?.children.values() ?? [])].map((child) => ({
    label: child.name,
    kind: CompletionItemKind.Variable,
    detail: child.title ?? inWords(child.kind.name),
    sortText: `2${child.name}`,
  }));
}

export function declaredIn(scope: FileScope): CompletionOffer[] {
  return [...scope.declarations].map(([name, { node }]) => ({
    label: name,
    kind: CompletionItemKind.Variable,
    detail: node.title?.value ?? inWords(node.kind.text),
    sortText: `4${name}`,
  }));
}

export function nameOffer(field: FieldDefinition): CompletionOffer {
  return {
    label: field.name,
    kind: CompletionItemKind.Field,
    detail: typeInWords(field.type),
    documentation: aboutField(field),
    sortText: `3${field.name}`,
  };
}

export function aboutField(field: FieldDefinition): CompletionOffer["documentation"] {
  const lines = [field.description, field.needs].filter((line) => line !== undefined);
  return lines.length === 0
    ? undefined
    : { kind: MarkupKind.Markdown, value: lines.map(forMarkdown).join("\n\n") };
}

export function kindOffer(kind: KindDefinition): CompletionOffer {
  return {
    label: kind.name,
    kind: CompletionItemKind.Class,
    detail: kind.title,
    sortText: `1${kind.name}`,
    text: `${kind.name} \${1:name} {\n\t$0\n}`,
  };
}

export function unitOffers(measure: Measure | undefined): CompletionOffer[] {
  const known = measure === undefined ? measures : [measure];
  const symbols = [...new Set(known.flatMap((each) => each.units))];
  return symbols.map((label, index) => ({
    label,
    kind: CompletionItemKind.Unit,
    detail: measure?.title ?? known.find((each) => each.units.includes(label))?.title,
    sortText: `0${String(index).padStart(3, "0")}`,
  }));
}

/** As the trade writes it, each figure a place to fill in; where nobody says how, by the form. */
export function designationOffers({
  title,
  examples,
  forms,
}: Pick<DesignationDefinition, "title" | "examples" | "forms">): CompletionOffer[] {
  if (examples.length > 0) {
    return examples.map(({ text, says }, index) => ({
      label: says === undefined ? text : `${text}, ${says}`,
      kind: CompletionItemKind.Value,
      detail: title,
      sortText: `0${String(index).padStart(3, "0")}`,
      text: figuresToFillIn(text),
    }));
  }
  return forms.map((form, index) => ({
    label: formInWords(withoutOptions(form)),
    kind: CompletionItemKind.Value,
    detail: title,
    sortText: `0${String(index).padStart(3, "0")}`,
    text: formSnippet(form),
  }));
}

/** `255/60R17` as `${1:255}/${2:60}R${3:17}`. */
function figuresToFillIn(example: string): string {
  let place = 0;
  return example.replaceAll(/\d+(?:\.\d+)?/g, (figure) => `\${${++place}:${figure}}`);
}

/** `{diameter in}x{width in}[ …]` as places to fill in; what may be left out is left out. */
function formSnippet(form: string): string {
  let place = 0;
  return withoutOptions(form).replace(
    /\{\s*([^\s}]+)[^}]*\}/g,
    (_, name: string) => `\${${++place}:${name}}`,
  );
}

/** What stands in brackets goes, the innermost ones first. */
function withoutOptions(form: string): string {
  let left = form;
  for (let before = ""; before !== left; ) {
    before = left;
    left = left.replace(/\[[^[\]]*\]/g, "");
  }
  return left.trim();
}

/** The text of a snippet for an editor that knows none. */
export function plain(text: string): string {
  return text
    .replace(/\$\{\d+:([^}]*)\}/g, "$1")
    .replace(/\$\d/g, "")
    .replaceAll("\t", "  ");
}

export const fieldWords = [
  "default",
  "range",
  "shown",
  "optional",
  ...roleWords,
  "found out",
  "needs",
  "source",
];

export const clauseWords: CompletionOffer[] = [
  "source",
  "because",
  "advise",
  "caution",
  "code",
  "severity",
  "message",
].map((label) => ({
  label,
  kind: CompletionItemKind.Keyword,
  text: label === "severity" ? `${label} $0` : `${label} "$0"`,
}));

export const memberSnippets: CompletionOffer[] = [
  {
    label: "check",
    kind: CompletionItemKind.Keyword,
    detail: "a claim that is held against the figures",
    sortText: "6check",
    text: 'check "${1:what must hold}": $0',
  },
  {
    label: "relation",
    kind: CompletionItemKind.Keyword,
    detail: "an equation between figures",
    sortText: "6relation",
    text: 'relation "${1:title}": $0',
  },
];

export const topSnippets: CompletionOffer[] = [
  {
    label: "use",
    kind: CompletionItemKind.Keyword,
    detail: "take in the things of another file",
    sortText: "2use",
    text: 'use "$0"',
  },
  {
    label: "display",
    kind: CompletionItemKind.Keyword,
    detail: "the units figures are shown in",
    sortText: "2display",
    text: "display { $0 }",
  },
  {
    label: "option",
    kind: CompletionItemKind.Keyword,
    detail: "another way to build it, solved beside the spec",
    sortText: "2option",
    text: 'option ${1:name} "${2:title}" {\n\t$0\n}',
  },
  {
    label: "record",
    kind: CompletionItemKind.Keyword,
    detail: "what was measured or done, and when",
    sortText: "2record",
    text: 'record "${1:what}" ${2:2026-01-31} {\n\t$0\n}',
  },
  {
    label: "kind",
    kind: CompletionItemKind.Keyword,
    detail: "a kind of thing of the shop's own",
    sortText: "3kind",
    text: 'kind ${1:name} "${2:title}" {\n\t$0\n}',
  },
  {
    label: "table",
    kind: CompletionItemKind.Keyword,
    detail: "figures to look up",
    sortText: "3table",
    text: 'table ${1:name} "${2:title}" {\n\t$0\n}',
  },
  ...memberSnippets,
];
