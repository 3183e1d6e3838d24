/**
 * Looks a library over as code is: every kind, field, relation, check, curve, default, table,
 * designation and order of every file, whatever they are called.
 *
 *     faultsOf(files)   →   ["wheel.trammel: a wheel has no field `ofset`", …]
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import { walk } from "../../grammar/walk";
import { Analyzer } from "../../server/analysis/analyzer";
import { BuildAnalysis } from "../../server/analysis/build-analysis";
import { memoryHost } from "../../server/analysis/host";
import { type Library, loadLibrary } from "../../server/analysis/library";
import { textProblemInWords } from "../../server/findings/worded";
import type { KindDefinition, Remarks, Vocabulary } from "../../server/model/definition";
import { cutEndlessKinds } from "../../server/model/endless-kinds";
import { kindEnvironment } from "../../server/model/kind-environment";
import { kindFindings } from "../../server/model/kind-findings";
import { exampleTexts } from "../../server/report/reference-comments";
import { sentence } from "../findings/sentence";

export interface TextFile {
  readonly path: string;
  readonly text: string;
}

/** Whatever is wrong in what they say, by file. */
export function faultsOf(files: readonly TextFile[]): string[] {
  const library = loadLibrary(files);
  const { vocabulary } = library;
  return [...textFaults(library), ...formulaFaults(vocabulary), ...wordFaults(vocabulary)];
}

/**
 * Relations that no example of a library file and none of `builds` comes to use: nobody would notice
 * what they yield. A build is its own file and those beside it.
 */
export function unusedRelations(
  files: readonly TextFile[],
  builds: readonly (readonly TextFile[])[],
): string[] {
  const library = loadLibrary(files);
  const examples = files.flatMap(({ text }) =>
    exampleTexts(text).map((example) => [{ path: "build.trammel", text: example }]),
  );
  const used = new Set([...examples, ...builds].flatMap((build) => relationsUsed(library, build)));
  return [...library.vocabulary.kinds.values()].flatMap((kind) =>
    kind.relations
      .filter((each) => isOwn(each, kind) && !used.has(keyOf(each.anchor)))
      .map(({ title, anchor }) => `${where(anchor)}: ${kind.name}: ${title}: no example uses it`),
  );
}

/** Figures of one kind that a summary shows. */
const mostHeadlines = 4;

// ───────────────────────────── helpers ─────────────────────────────

function where({ uri }: Anchor): string {
  return uri.replace("library:/", "");
}

/** What does not parse or declare. */
function textFaults({ files, findings }: Library): string[] {
  const ofSyntax = [...files].flatMap(([uri, { source }]) =>
    source.items.flatMap(({ problems }) =>
      problems.map((each) => `${uri.replace("library:/", "")}: ${textProblemInWords(each)}`),
    ),
  );
  return [...ofSyntax, ...findings.map((found) => `${where(found.anchor)}: ${sentence(found)}`)];
}

/** Every formula, default, range and text with names in it, tried for any thing of the kind. */
function formulaFaults(vocabulary: Vocabulary): string[] {
  // The library's own kinds are not looked over at each start: here they are read as a shop's are.
  const kinds = new Map(
    [...vocabulary.kinds].map(([name, kind]) => [name, { ...kind, library: false }] as const),
  );
  const faults: string[] = [];
  cutEndlessKinds(
    new Map(kinds),
    (kind) => kind.anchor,
    (found) => faults.push(`${where(found.anchor)}: ${sentence(found)}`),
  );
  for (const found of kindFindings({ ...vocabulary, kinds }))
    faults.push(`${where(found.anchor)}: ${sentence(found)}`);
  for (const kind of kinds.values()) {
    const environment = kindEnvironment(kind, vocabulary);
    for (const { title, anchor, remarks } of kind.checks.filter((each) => isOwn(each, kind)))
      for (const text of [remarks.message, remarks.advise, remarks.caution])
        for (const [, path = ""] of (text ?? "").matchAll(/\{([a-z_][\w.]*)\}/gi)) {
          const span = { start: 0, end: 0 };
          const names = path
            .split(".")
            .map((name) => ({ type: "name" as const, text: name, span })) as [syntax.Name];
          if (environment.denote({ type: "path", names, span }).is === "unknown")
            faults.push(`${where(anchor)}: ${title}: a text speaks of {${path}}`);
        }
  }
  return faults;
}

function isOwn({ anchor }: { readonly anchor: Anchor }, kind: KindDefinition): boolean {
  return anchor.item === kind.anchor.item;
}

/** What says nothing of where it is from, what it means, or what to do. */
function wordFaults({ kinds, tables, designations, orders }: Vocabulary): string[] {
  const faults: string[] = [];
  const yielded = namesInRelations(kinds);
  const sourced = (name: string, anchor: Anchor, { source }: Pick<Remarks, "source">): void => {
    if (source === undefined || source.trim() === "")
      faults.push(`${where(anchor)}: ${name}: no source`);
  };
  for (const kind of kinds.values()) {
    for (const each of [...kind.relations, ...kind.checks, ...kind.curves])
      if (isOwn(each, kind)) sourced(`${kind.name}: ${each.title}`, each.anchor, each.remarks);
    for (const { title, anchor, remarks } of kind.checks.filter((each) => isOwn(each, kind))) {
      const place = `${where(anchor)}: ${kind.name}: ${title}`;
      if (!/^[a-z0-9-]+\/[a-z0-9-]+$/.test(remarks.code ?? "")) faults.push(`${place}: no code`);
      if (remarks.advise === undefined) faults.push(`${place}: no advice`);
    }
    const headlines = [...kind.fields.values()].filter(({ shown }) => shown);
    if (headlines.length > mostHeadlines)
      faults.push(`${where(kind.anchor)}: ${kind.name}: more than ${mostHeadlines} headlines`);
    for (const field of kind.fields.values()) {
      if (field.owner !== kind.name) continue;
      const place = `${kind.name}.${field.name}`;
      if (field.default !== undefined) sourced(place, field.anchor, field);
      if (field.description === undefined)
        faults.push(`${where(field.anchor)}: ${place}: no meaning`);
      const measures = field.type.form === "measure" && field.type.measure.name !== "text";
      if (measures && field.role === undefined && !yielded.has(field.name))
        faults.push(`${where(field.anchor)}: ${place}: no role, and no relation yields it`);
    }
  }
  for (const table of tables.values()) {
    sourced(table.name, table.anchor, table.remarks);
    for (const { name, description } of table.columns)
      if (description === undefined)
        faults.push(`${where(table.anchor)}: ${table.name}.${name}: no meaning`);
  }
  for (const designation of designations.values()) {
    sourced(designation.name, designation.anchor, designation.remarks);
    for (const { name, description } of designation.parts.values())
      if (description === undefined)
        faults.push(`${where(designation.anchor)}: ${designation.name}.${name}: no meaning`);
  }
  for (const order of orders) {
    sourced(order.title, order.anchor, order.remarks);
    if (order.remarks.because === undefined)
      faults.push(`${where(order.anchor)}: ${order.title}: says not why`);
  }
  return faults;
}

/** Last names of all that relations speak of. */
function namesInRelations(kinds: Vocabulary["kinds"]): ReadonlySet<string> {
  const names = new Set<string>();
  for (const { relations } of kinds.values())
    for (const { node } of relations)
      walk(node, (each) => {
        const last = "type" in each && each.type === "path" ? each.names.at(-1) : undefined;
        if (last !== undefined) names.add(last.text);
      });
  return names;
}

function relationsUsed(library: Library, build: readonly TextFile[]): string[] {
  const folder = "file:///build/";
  const texts = new Map(build.map(({ path, text }) => [`${folder}${path}`, text]));
  const root = `${folder}${build[0]?.path}`;
  const analysis = new Analyzer(memoryHost(texts, [folder]), library).analyze(root);
  if (!(analysis instanceof BuildAnalysis)) throw new Error(`${root} cannot be read`);
  const views = analysis.options.flatMap(({ name }) => analysis.under(name) ?? []);
  return [analysis, ...views].flatMap(({ reading }) =>
    reading.rows.flatMap(({ row }) =>
      row.equations.flatMap(({ origin }) =>
        origin.is === "relation" ? [keyOf(origin.relation.anchor)] : [],
      ),
    ),
  );
}

function keyOf({ uri, item, span }: Anchor): string {
  return `${uri} ${item.text.slice(0, 80)} ${span.start}`;
}
