/**
 * One reading of a build as everybody reads it: the answers of its groups put together, its options
 * and the as-built view beside the spec.
 *
 * Must not know: how files are read, what is kept between readings.
 */
import type * as syntax from "../../grammar/syntax";
import type { SourceFile } from "../../grammar/syntax";

import type { Anchor } from "../model/anchor";
import type { Finding } from "../model/finding";
import type { Declaration, FileScope } from "../model/scope";
import type { Thing } from "../model/thing";
import type { ChoiceControl } from "../solve/choose";
import type { DisplayStyle } from "../units";
import type {
  Analysis,
  AskedValue,
  CheckResult,
  ChooseAnswer,
  ChooseRequest,
  CurveResult,
  Levels,
  MissingValue,
  OptionInfo,
  RecordInfo,
  Value,
} from "./analysis";
import { chooseThings, trialItem, trialName } from "./choose-things";
import { curvesOf } from "./curves";
import type { BuildFile, BuildFiles } from "./files";
import { type GroupContext, GroupResult } from "./group-result";
import { type Group, groupsOf, type Placed, sameMembers } from "./groups";
import type { Library } from "./library";
import type { Overlay } from "./overlay";
import { recordFindings } from "./records";
import { sortFindings } from "./sorting";
import { Writer } from "./wording";

/**
 * Findings of a room above this one, which it makes of a whole analysis: asked for once, when the
 * findings of a build are first read, not for its options nor as built. May read all of the analysis
 * but its findings.
 */
export type FurtherFindings = (analysis: Analysis) => readonly Finding[];

/** What a reading is made of. */
export interface Parts {
  readonly build: BuildFiles;
  readonly library: Library;
  readonly further: readonly FurtherFindings[];
  readonly style: DisplayStyle;
  readonly levels: Levels;
  readonly results: readonly { readonly group: Group; readonly result: GroupResult }[];
  /** Findings of files and display, outside of all groups. */
  readonly outside: readonly Finding[];
  readonly overlay: Overlay;
}

interface Places {
  /** By the path of a thing at the top of a file, as the root file calls it. */
  readonly byPath: ReadonlyMap<string, GroupResult>;
  readonly byDeclaration: ReadonlyMap<Declaration, GroupResult>;
}

export class BuildAnalysis implements Analysis {
  readonly rootUri: string;
  readonly files: ReadonlyMap<string, BuildFile>;
  readonly style: DisplayStyle;
  readonly options: readonly OptionInfo[];
  readonly records: readonly RecordInfo[];
  private readonly writer: Writer;
  private readonly variants = new Map<string, Analysis>();

  constructor(private readonly parts: Parts) {
    const { build, style } = parts;
    this.rootUri = build.root.uri;
    this.files = new Map(build.files.map((file) => [file.uri, file]));
    this.style = style;
    this.writer = new Writer(style);
    this.options = optionsOf(build);
    this.records = recordsOf(build);
  }

  sourceOf(uri: string): SourceFile | undefined {
    return this.files.get(uri)?.source ?? this.parts.library.files.get(uri)?.source;
  }

  get vocabulary() {
    return this.parts.build.vocabulary;
  }

  private once = new Map<string, unknown>();

  /** Lists over all groups are put together when they are first read. */
  private lazily<T>(name: string, make: () => T): T {
    if (!this.once.has(name)) this.once.set(name, make());
    return this.once.get(name) as T;
  }

  get things(): readonly Thing[] {
    return this.lazily("things", () => this.collect(({ result }) => result.model.things));
  }

  get values(): ReadonlyMap<string, Value> {
    return this.lazily(
      "values",
      () =>
        new Map(this.collect(({ result }) => result.values).map((value) => [value.path, value])),
    );
  }

  get asked(): readonly AskedValue[] {
    return this.lazily("asked", () => [
      ...this.collect(({ result }) => result.asked),
      ...this.overOptions((result, option) =>
        askedInside(result.under({ is: "option", name: option.name }).asked, option),
      ),
    ]);
  }

  get checks(): readonly CheckResult[] {
    return this.lazily("checks", () => this.collect(({ result }) => result.checks));
  }

  get curves(): readonly CurveResult[] {
    return this.lazily("curves", () => this.collect(({ result }) => curvesOf(result)));
  }

  get missing(): readonly MissingValue[] {
    return this.lazily("missing", () => this.collect(({ result }) => result.missing));
  }

  get findings(): readonly Finding[] {
    return this.lazily("findings", () => {
      const syntax = this.syntaxFindings();
      const records = this.parts.overlay.is === "spec" ? recordFindings(this, this.writer) : [];
      const own = this.collect(({ result }) => result.findings);
      const ofOptions = this.overOptions((result, option) =>
        result.findingsUnder(option.name).map((finding) => inOption(finding, option)),
      );
      const all = [
        ...syntax,
        ...this.parts.outside,
        ...own,
        ...ofOptions,
        ...records,
        ...this.furtherFindings(),
      ];
      return sortFindings(all, this);
    });
  }

  valueAt(path: string): Value | undefined {
    // Most things are called by their paths; what goes by another name is looked for after that.
    const { byPath } = this.places;
    for (let end = path.indexOf("."); end > 0; end = path.indexOf(".", end + 1)) {
      const value = byPath.get(path.slice(0, end))?.valueAt(path);
      if (value !== undefined) return value;
    }
    const target = this.targetAt(path);
    if (target?.target.is !== "field") return undefined;
    const { thing, field, part } = target.target;
    const owned =
      part === undefined
        ? `${thing.path}.${field.name}`
        : `${thing.path}.${field.name}.${part.name}`;
    return target.result.valueAt(owned);
  }

  thingAt(path: string): Thing | undefined {
    const target = this.targetAt(path)?.target;
    return target?.is === "thing" ? target.thing : undefined;
  }

  under(option: string): Analysis | undefined {
    if (!this.options.some(({ name }) => name === option)) return undefined;
    return this.variant({ is: "option", name: option }, `option ${option}`);
  }

  trying(lines: string): Analysis {
    const { build } = this.parts;
    const placed: Placed = { item: trialItem(lines), scope: build.root.scope };
    const before = new Map(this.parts.results.map((each) => [each.group.members[0]?.item, each]));
    const overlay: Overlay = { is: "option", name: trialName };
    const results = groupsOf(build, [placed]).map((group) => {
      const same = before.get(group.members[0]?.item);
      const touched = group.members.includes(placed);
      if (!touched && same !== undefined && sameMembers(same.group, group)) return same;
      const input = { ...this.context(), group, overlay: touched ? overlay : this.parts.overlay };
      return { group, result: new GroupResult({ ...input, plan: same?.result.solution.plan }) };
    });
    return new BuildAnalysis({ ...this.parts, results, overlay });
  }

  choose(request: ChooseRequest, control: ChoiceControl = {}): Promise<ChooseAnswer> {
    return chooseThings(this, this.parts.build, this.context(), request, control);
  }

  asBuilt(): Analysis {
    return this.variant({ is: "as built" }, "as built");
  }

  write(value: Value): string {
    if (value.word !== undefined)
      return typeof value.word === "boolean" ? (value.word ? "yes" : "no") : value.word;
    return value.written ?? this.writer.value(value.si, value.measure);
  }

  // ── helpers ──

  private context(): GroupContext {
    const { build, library, style, levels, overlay } = this.parts;
    return { vocabulary: build.vocabulary, pool: library.pool, style, levels, overlay };
  }

  private targetAt(path: string) {
    const names = path
      .split(".")
      .map((text) => ({ type: "name" as const, text, span: { start: 0, end: 0 } }));
    const { scope } = this.parts.build.root;
    const declaration = declarationAt(scope, names);
    const result = declaration && this.places.byDeclaration.get(declaration);
    const target = result?.model.resolve(undefined, scope, names);
    if (result === undefined || (target?.is !== "field" && target?.is !== "thing"))
      return undefined;
    return { result, target };
  }

  /** Which group holds what is declared. */
  private get places(): Places {
    return this.lazily("places", () => {
      const byPath = new Map<string, GroupResult>();
      const byDeclaration = new Map<Declaration, GroupResult>();
      for (const { group, result } of this.parts.results) {
        for (const { declaration, scope } of group.members) {
          if (declaration === undefined) continue;
          byPath.set(`${scope.prefix}${declaration.node.name.text}`, result);
          byDeclaration.set(declaration, result);
        }
      }
      return { byPath, byDeclaration };
    });
  }

  private collect<T>(list: (each: Parts["results"][number]) => readonly T[]): T[] {
    const all: T[] = [];
    for (const each of this.parts.results) for (const one of list(each)) all.push(one);
    return all;
  }

  /** What each option says by itself of the groups it is about; nothing while looking at one. */
  private overOptions<T>(list: (result: GroupResult, option: OptionInfo) => readonly T[]): T[] {
    if (this.parts.overlay.is !== "spec") return [];
    const touched = new Map<string, GroupResult[]>(this.options.map(({ name }) => [name, []]));
    for (const { result } of this.parts.results)
      for (const name of result.optionNames) touched.get(name)?.push(result);
    return this.options.flatMap((option) =>
      (touched.get(option.name) ?? []).flatMap((result) => [...list(result, option)]),
    );
  }

  /** Groups that the overlay does not touch are the very same results. */
  private variant(overlay: Overlay, key: string): Analysis {
    const before = this.variants.get(key);
    if (before !== undefined) return before;
    const results = this.parts.results.map(({ group, result }) => ({
      group,
      result: result.under(overlay),
    }));
    const made = new BuildAnalysis({ ...this.parts, results, overlay });
    this.variants.set(key, made);
    return made;
  }

  /** A fault in what looks further is told, and takes nothing else with it. */
  private furtherFindings(): Finding[] {
    const { build, overlay, further } = this.parts;
    if (overlay.is !== "spec") return [];
    return further.flatMap((look) => {
      try {
        return [...look(this)];
      } catch (error) {
        const [item] = build.root.source.items;
        return item === undefined ? [] : [faultFinding(error, { uri: this.rootUri, item })];
      }
    });
  }

  private syntaxFindings(): Finding[] {
    const findings: Finding[] = [];
    for (const file of this.parts.build.files) {
      for (const item of file.source.items) {
        for (const problem of item.problems) {
          const at = (span: typeof problem.span) => ({ uri: file.uri, item, span });
          findings.push({
            code: problem.code,
            severity: "error",
            message: problem.message,
            anchor: at(problem.span),
            fixes:
              problem.fix === undefined
                ? []
                : [
                    {
                      title: problem.fix.title,
                      edits: [{ anchor: at(problem.fix.span), text: problem.fix.text }],
                      preferred: true,
                    },
                  ],
          });
        }
      }
    }
    return findings;
  }
}

function faultFinding(error: unknown, { uri, item }: Pick<Anchor, "uri" | "item">): Finding {
  const why = error instanceof Error ? error.message : String(error);
  return {
    code: "build/fault",
    severity: "warning",
    message: `part of this build was not looked through: ${why}`,
    hint: "this should not have happened: please report it with the build",
    anchor: { uri, item, span: { start: 0, end: 0 } },
  };
}

/** What the first names of a path declare. */
function declarationAt(
  scope: FileScope,
  [first, ...rest]: readonly syntax.Name[],
): Declaration | undefined {
  if (first === undefined) return undefined;
  const declaration = scope.declarations.get(first.text);
  if (declaration !== undefined) return declaration;
  const namespace = scope.namespaces.get(first.text);
  return namespace === undefined ? undefined : declarationAt(namespace, rest);
}

function askedInside(asked: readonly AskedValue[], option: OptionInfo): AskedValue[] {
  return asked
    .filter(({ anchor }) => anchor.item === option.anchor.item)
    .map((each) => ({ ...each, option: option.name }));
}

/** An option is there to be tried: what is wrong with it does not make the build wrong. */
function inOption(finding: Finding, option: OptionInfo): Finding {
  const inside = finding.anchor.item === option.anchor.item;
  return {
    ...finding,
    severity: finding.severity === "error" ? "warning" : finding.severity,
    message: `with option ${option.name}: ${finding.message}`,
    anchor: inside ? finding.anchor : option.anchor,
    related: inside
      ? finding.related
      : [
          { anchor: finding.anchor, message: "this is the place in the spec" },
          ...(finding.related ?? []),
        ],
  };
}

/** Options are called by their names alone, whichever file they stand in. */
export function repeatedOptions(build: BuildFiles): Finding[] {
  const first = new Map<string, OptionInfo["anchor"]>();
  const findings: Finding[] = [];
  for (const file of build.files) {
    for (const item of file.source.items) {
      const { node } = item;
      if (node.type !== "option" || node.name.text === "") continue;
      const anchor = { uri: file.uri, item, span: node.name.span };
      const before = first.get(node.name.text);
      if (before === undefined) {
        first.set(node.name.text, anchor);
        continue;
      }
      findings.push({
        code: "name/duplicate",
        severity: "error",
        message: `there is an option \`${node.name.text}\` already`,
        hint: "give one of the two another name",
        anchor,
        related: [{ anchor: before, message: "it is declared here" }],
      });
    }
  }
  return findings;
}

function optionsOf(build: BuildFiles): OptionInfo[] {
  const options = new Map<string, OptionInfo>();
  for (const file of build.files) {
    for (const item of file.source.items) {
      const { node } = item;
      if (node.type !== "option" || node.name.text === "" || options.has(node.name.text)) continue;
      options.set(node.name.text, {
        name: node.name.text,
        title: node.title?.value,
        anchor: { uri: file.uri, item, span: node.name.span },
      });
    }
  }
  return [...options.values()];
}

function recordsOf(build: BuildFiles): RecordInfo[] {
  return build.files.flatMap((file) =>
    file.source.items.flatMap((item) =>
      item.node.type === "record"
        ? [
            {
              title: item.node.title?.value,
              date: item.node.date?.text,
              node: item.node,
              anchor: { uri: file.uri, item, span: item.node.span },
            },
          ]
        : [],
    ),
  );
}
