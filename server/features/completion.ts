/**
 * What can be written at the cursor: kinds, fields with their measures, units after a number, names
 * of things of the wanted kind, choices, designation forms, functions.
 *
 *     completions(analysis, uri, offset)   →   [{ label: "inner_gap", detail: "length (in, …)" }, …]
 *
 * Must not know: how answers travel.
 */
import {
  type CompletionItem,
  CompletionItemKind,
  InsertTextFormat,
  type Range,
} from "vscode-languageserver";
import type { Analysis } from "../analysis/analysis";
import type { FieldDefinition, FieldType, KindDefinition } from "../model/definition";
import { twinsOf } from "../model/twins";
import type { FileScope } from "../names/scope";
import { type Measure, measures } from "../units";
import { afterNumber, holderOfOpeners } from "./around-cursor";
import { inWords, typeInWords } from "./figures";
import { functions, signature } from "./functions";
import {
  designationOf,
  type FileWords,
  follow,
  followFromFile,
  type Holder,
  type HolderTarget,
  holderOf,
  namesAt,
} from "./holder";
import {
  aboutField,
  bothOffer,
  type CompletionOffer,
  childrenOf,
  clauseWords,
  declaredIn,
  designationOffers,
  fieldWords,
  kindOffer,
  memberSnippets,
  mostOffers,
  nameOffer,
  plain,
  plainBoth,
  topSnippets,
  unitOffers,
} from "./offers";
import { usedFiles } from "./used-files";
import { type WritingPlace, writingPlace } from "./writing-place";

export interface CompletionAbilities {
  /** Whether the editor fills in places of a text one after the other. */
  readonly snippets: boolean;
  /** URIs of the files that could be used, as far as they are known. */
  readonly files?: readonly string[];
}

export function completions(
  analysis: Analysis,
  uri: string,
  offset: number,
  abilities: CompletionAbilities,
): CompletionItem[] {
  const source = analysis.sourceOf(uri);
  if (source === undefined) return [];
  const item = source.itemAt(offset);
  const from = item === undefined ? 0 : source.offsetOf(item);
  const place = writingPlace(source.text, offset, Math.min(from, offset));
  if (place.inside === "text") return usedFiles(uri, source, place, offset, abilities.files ?? []);
  if (place.inside !== "code") return [];
  const names = namesAt(analysis, uri);
  const wordEnd =
    offset + (/^[\p{L}\p{N}_]*/u.exec(source.text.slice(offset, offset + 100))?.[0].length ?? 0);
  const range: Range = { start: source.positionAt(place.start), end: source.positionAt(wordEnd) };
  const offers = new Offers(names, place, source.text.slice(wordEnd, wordEnd + 40));
  return offers
    .list()
    .slice(0, mostOffers)
    .map(({ text, ...offer }) => ({
      ...offer,
      filterText: offer.label,
      insertTextFormat:
        abilities.snippets && text?.includes("$")
          ? InsertTextFormat.Snippet
          : InsertTextFormat.PlainText,
      textEdit: {
        range,
        newText: abilities.snippets ? (text ?? offer.label) : plain(text ?? offer.label),
      },
    }));
}

// ───────────────────────────── helpers ─────────────────────────────

class Offers {
  private readonly holder: Holder | undefined;

  constructor(
    private readonly names: FileWords,
    private readonly place: WritingPlace,
    private readonly after: string,
  ) {
    this.holder = holderOfOpeners(names, place.openers);
  }

  list(): CompletionOffer[] {
    const { place } = this;
    const innermost = place.openers.at(-1);
    if (innermost?.is === "display") return this.inDisplay();
    if (innermost?.is === "kind") return this.inKind();
    if (innermost?.is === "table" || innermost?.is === "designation") return this.inDeclaration();
    if (/^\s*use\b/.test(place.lead)) return [];
    const statement = /^\s*(check|relation|assume|curve|order)\b/.exec(place.lead);
    if (statement !== null) return this.inStatement();
    const given = /([\p{L}_][\p{L}\p{N}_]*(?:\.[\p{L}_][\p{L}\p{N}_]*)*)\s*:([^:{}]*)$/u.exec(
      place.lead,
    );
    if (given !== null) return this.inGiven((given[1] ?? "").split("."), given[2] ?? "");
    if (place.path.length > 0) return this.members();
    const like =
      /^\s*(?:([\p{L}_][\p{L}\p{N}_]*)\s+)?[\p{L}_][\p{L}\p{N}_.]*\s+(?:"[^"\n]*"\s+)?like\s+$/u.exec(
        place.lead,
      );
    if (like !== null) return this.othersLike(like[1]);
    if (place.lead.trim() !== "") return [];
    return innermost === undefined ? this.atTop() : this.atMember();
  }

  // ── where a member begins ──

  private atTop(): CompletionOffer[] {
    const kinds = [...this.names.vocabulary.kinds.values()]
      .filter((kind) => kind.owner === undefined)
      .map((kind) => kindOffer(kind));
    return [...kinds, ...topSnippets];
  }

  private atMember(): CompletionOffer[] {
    const innermost = this.place.openers.at(-1);
    if (innermost?.is === "option" || innermost?.is === "record" || this.holder === undefined) {
      return this.namesInScope((target) => target.is !== "namespace");
    }
    const { kind, thing } = this.holder;
    const fields = [...kind.fields.values()]
      .filter(
        (field) => !(thing?.entries.has(field.name) ?? false) || field.name === this.place.word,
      )
      .map((field) => this.fieldOffer(field));
    const twins = twinsOf(kind);
    if (twins.length > 0) fields.push(bothOffer(twins));
    const inside = [...this.names.vocabulary.kinds.values()]
      .filter((each) => each.owner === undefined && takes(kind, each))
      .map((each) => ({ ...kindOffer(each), sortText: `5${each.name}` }));
    return [...fields, ...inside, ...memberSnippets];
  }

  /** Behind `like`: things of the kind, or the parts and things around a part. */
  private othersLike(kind: string | undefined): CompletionOffer[] {
    if (kind !== undefined && this.names.vocabulary.kinds.has(kind)) return this.thingsOfKind(kind);
    const { holder } = this;
    if (holder === undefined) return [];
    const parts = fieldsOf(holder).filter(({ type }) => type.form === "part");
    return [...parts.map((field) => nameOffer(field)), ...childrenOf(holder)];
  }

  private fieldOffer(field: FieldDefinition): CompletionOffer {
    const rank =
      field.role !== undefined ? 1 : field.shown ? 2 : field.default !== undefined ? 4 : 3;
    const opens = field.type.form === "part";
    const hasMore = /^\s*[:{]/.test(this.after);
    const value = opens ? `${field.name} {\n\t$0\n}` : `${field.name}: $0`;
    return {
      label: field.name,
      kind: opens ? CompletionItemKind.Struct : CompletionItemKind.Field,
      detail: typeInWords(field.type),
      documentation: aboutField(field),
      sortText: `${rank}${field.name}`,
      text: hasMore ? field.name : value,
    };
  }

  // ── values ──

  private inGiven(path: readonly string[], before: string): CompletionOffer[] {
    const target = follow(this.names, this.holder, path);
    const field = target?.is === "field" ? (target.part ?? target.field) : undefined;
    const measure = field?.type.form === "measure" ? field.type.measure : undefined;
    if (this.place.path.length > 0) return this.members();
    if (afterNumber(before)) return [...unitOffers(measure), ...this.nextMember(before)];
    if (before.trim() === "") return field === undefined ? [] : this.valueOffers(field, field.type);
    if (/[-+*/^(,]\s*$|±\s*$|\b(?:if|then|else|and|or|not)\s+$/.test(before))
      return this.inFormula(measure);
    return this.nextMember(before);
  }

  /** After a whole value on the same line another member may begin. */
  private nextMember(before: string): CompletionOffer[] {
    const whole = /(?:[\p{L}\p{N}%"?)\]}])\s+$/u.test(before);
    return whole && this.place.openers.length > 0 ? this.atMember() : [];
  }

  private valueOffers(field: FieldDefinition, type: FieldType): CompletionOffer[] {
    const ask: CompletionOffer = {
      label: "?",
      kind: CompletionItemKind.Operator,
      detail: "the solved value is wanted here",
      sortText: "0",
    };
    switch (type.form) {
      case "measure":
        return [ask, ...this.inFormula(type.measure)];
      case "choice":
        return type.choices.map((choice) => ({
          label: choice,
          kind: CompletionItemKind.EnumMember,
          detail: field.description,
        }));
      case "yes_no":
        return ["yes", "no"].map((label) => ({ label, kind: CompletionItemKind.Keyword }));
      case "designation":
        return designationOffers(type.designation);
      case "reference":
        return this.thingsOfKind(type.kind);
      case "list":
        return this.valueOffers(field, type.of);
      default:
        return [];
    }
  }

  private thingsOfKind(kind: string): CompletionOffer[] {
    const offers: CompletionOffer[] = [];
    const collect = (scope: FileScope, prefix: string): void => {
      for (const [name, { node }] of scope.declarations) {
        const definition = this.names.vocabulary.kinds.get(node.kind.text);
        if (definition?.lineage.includes(kind) !== true) continue;
        offers.push({
          label: `${prefix}${name}`,
          kind: CompletionItemKind.Variable,
          detail: node.title?.value ?? inWords(node.kind.text),
        });
      }
      if (prefix !== "") return;
      for (const [alias, inner] of scope.namespaces) collect(inner, `${alias}.`);
    };
    if (this.names.scope !== undefined) collect(this.names.scope, "");
    return offers;
  }

  // ── formulas ──

  private inStatement(): CompletionOffer[] {
    const { lead } = this.place;
    // Before the colon there are only the title and `when`.
    const formula = /:(?!.*"$)([\s\S]*)$/.exec(lead.replace(/"[^"\n]*"/g, '""'))?.[1];
    if (formula === undefined && !/\bwhen\b/.test(lead)) return [];
    if (this.place.path.length > 0) return this.members();
    if (afterNumber(formula ?? "")) return unitOffers(this.measureBefore(formula ?? ""));
    return this.inFormula(undefined);
  }

  /** The measure of the last name before a number: that is what it is compared with. */
  private measureBefore(formula: string): Measure | undefined {
    const paths = formula.match(/[\p{L}_][\p{L}\p{N}_]*(?:\.[\p{L}_][\p{L}\p{N}_]*)*/gu) ?? [];
    for (const path of paths.reverse()) {
      const target = follow(this.names, this.holder, path.split("."));
      const field = target?.is === "field" ? (target.part ?? target.field) : undefined;
      if (field?.type.form === "measure") return field.type.measure;
    }
    return undefined;
  }

  private inFormula(measure: Measure | undefined): CompletionOffer[] {
    const named = this.namesInScope((target) => {
      if (target.is !== "field" || measure === undefined) return true;
      const { type } = target.field;
      return type.form !== "measure" || type.measure.name === measure.name;
    });
    const calls = [...functions].map(
      ([name, help]): CompletionOffer => ({
        label: name,
        kind: CompletionItemKind.Function,
        detail: signature(name, help),
        documentation: help.says,
        sortText: `7${name}`,
        text: `${name}($0)`,
      }),
    );
    const tables = [...this.names.vocabulary.tables.values()].map(
      (table): CompletionOffer => ({
        label: table.name,
        kind: CompletionItemKind.Function,
        detail: table.title,
        sortText: `8${table.name}`,
        text: `${table.name}($0)`,
      }),
    );
    return [...named, ...calls, ...tables];
  }

  // ── names ──

  private members(): CompletionOffer[] {
    const { path } = this.place;
    const target = follow(this.names, this.holder, path) ?? followFromFile(this.names, path);
    if (target === undefined) return [];
    if (target.is === "namespace") return declaredIn(target.scope);
    const designation = designationOf(target);
    if (designation !== undefined)
      return [...designation.parts.values()].map((part) => nameOffer(part));
    const holder = holderOf(target);
    return holder === undefined
      ? []
      : fieldsOf(holder)
          .map((field) => nameOffer(field))
          .concat(childrenOf(holder))
          .concat(twinsOf(holder.kind).length > 0 ? [plainBoth] : []);
  }

  private namesInScope(wanted: (target: HolderTarget) => boolean): CompletionOffer[] {
    const offers: CompletionOffer[] = [];
    for (let inside = this.holder; inside !== undefined; inside = inside.owner) {
      const holder = inside;
      offers.push(
        ...fieldsOf(holder)
          .filter((field) => wanted({ is: "field", field, holder }))
          .map((field) => nameOffer(field)),
        ...childrenOf(holder),
      );
    }
    if (this.names.scope !== undefined) {
      offers.push(...declaredIn(this.names.scope));
      for (const alias of this.names.scope.namespaces.keys()) {
        offers.push({ label: alias, kind: CompletionItemKind.Module, sortText: `6${alias}` });
      }
    }
    return offers;
  }

  // ── declarations ──

  private inDisplay(): CompletionOffer[] {
    const entry = /([\p{L}_]+)\s*:\s*[^:]*$/u.exec(this.place.lead);
    const measure = measures.find((each) => each.name === entry?.[1]);
    if (entry !== null) return unitOffers(measure);
    return measures.map((each) => ({
      label: each.name,
      kind: CompletionItemKind.Property,
      detail: each.units.slice(0, 4).join(", "),
      text: `${each.name}: $0`,
    }));
  }

  private inKind(): CompletionOffer[] {
    const { lead } = this.place;
    if (/^\s*(relation|assume|check|curve)\b/.test(lead)) return this.inStatement();
    if (/^\s*[\p{L}_][\p{L}\p{N}_]*\s*:\s*(?:part\s+|list\s+of\s+)?$/u.test(lead))
      return this.types();
    if (/^\s*[\p{L}_][\p{L}\p{N}_]*\s*:/u.test(lead)) {
      if (/\bdefault\s+$/.test(lead)) return this.inFormula(undefined);
      return fieldWords.map((label) => ({ label, kind: CompletionItemKind.Keyword }));
    }
    return lead.trim() === "" ? memberSnippets : clauseWords;
  }

  private inDeclaration(): CompletionOffer[] {
    return /:\s*$/.test(this.place.lead) ? this.types() : clauseWords;
  }

  private types(): CompletionOffer[] {
    const { kinds, designations } = this.names.vocabulary;
    return [
      ...measures.map(
        (each): CompletionOffer => ({
          label: each.name,
          kind: CompletionItemKind.TypeParameter,
          detail: each.units.slice(0, 4).join(", "),
          sortText: `1${each.name}`,
        }),
      ),
      ...["text", "yes_no", "date"].map(
        (label): CompletionOffer => ({
          label,
          kind: CompletionItemKind.TypeParameter,
          sortText: `2${label}`,
        }),
      ),
      ...[...designations.values()].map(
        (each): CompletionOffer => ({
          label: each.name,
          kind: CompletionItemKind.Struct,
          detail: each.title,
          sortText: `3${each.name}`,
        }),
      ),
      ...[...kinds.values()].map(
        (each): CompletionOffer => ({
          label: each.name,
          kind: CompletionItemKind.Class,
          detail: each.title,
          sortText: `4${each.name}`,
        }),
      ),
    ];
  }
}

function takes(kind: KindDefinition, inner: KindDefinition): boolean {
  for (const { type } of kind.fields.values()) {
    if (type.form !== "list") continue;
    const { of } = type;
    if ((of.form === "part" || of.form === "reference") && inner.lineage.includes(of.kind))
      return true;
  }
  return false;
}

function fieldsOf(holder: Holder): FieldDefinition[] {
  return [...holder.kind.fields.values()];
}
