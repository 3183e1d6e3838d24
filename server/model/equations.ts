/**
 * The equations of a build: one for every relation, formula and default that applies.
 *
 *     equations.kindRelation(rear, relation)   →   `list` has the form of it over rear's own figures
 *
 * Must not know: checks, curves, how equations are solved.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Findings } from "../findings/collected";
import { goOn } from "../keep/patience";
import type { FigureId } from "../names/ids";
import type { Rank } from "../solve/system";
import type { Measure } from "../units";
import { compileCondition, compileEquation, compileExpression } from "./compile";
import type { CompiledEquation, CompiledExpression } from "./compiled";
import type { FieldDefinition, RelationDefinition, Vocabulary } from "./definition";
import type { Figures } from "./figures";
import type { FormulaNames, FormulaScope } from "./formula-names";
import { type FormPool, type Template, whenSays } from "./kind-environment";
import { readOff, withOwnSpread } from "./literal";
import {
  type FigureEquation,
  type Location,
  type ModelEquation,
  type ModelStack,
  type ModelVariable,
  type Origin,
  pathOf,
} from "./model";
import { remarksOf } from "./remarks";
import type { Entry, Thing } from "./thing";

/** Collects equations while things are gone through. */
export class Equations {
  readonly list: ModelEquation[] = [];
  /** Figures that are put together from the pieces of kits. */
  readonly stacks: ModelStack[] = [];
  /** How many relations the builder wrote in the thing. */
  private own = 0;

  constructor(
    private readonly figures: Figures,
    private readonly names: FormulaNames,
    private readonly vocabulary: Vocabulary,
    private readonly pool: FormPool,
    private readonly findings: Findings,
  ) {}

  /** What gives a figure that is not written as one: its formula, or else its default. */
  workOut(variable: ModelVariable, entry: Entry | undefined): void {
    const definition = variable.part ?? variable.field;
    const { figure } = variable;
    if (entry === undefined) this.defaultFor(variable, definition);
    else if (figure === undefined) this.formula(variable, entry);
    else this.wish(variable, entry, figure.value);
  }

  /** The relations of the thing's kind. */
  kindRelations(thing: Thing): void {
    const templates = this.pool.relations(thing.kind, this.vocabulary);
    for (const [at, relation] of thing.kind.relations.entries()) {
      goOn(200);
      const template = templates[at];
      if (template !== undefined) this.kindRelation(thing, relation, template);
    }
  }

  /** From the shared form of it where that will do. */
  private kindRelation(
    thing: Thing,
    relation: RelationDefinition,
    template: NonNullable<Template>,
  ): void {
    const { node } = relation;
    const name = `${thing.id.path}: ${relation.title} ${thing.id.uri}`;
    const origin: Origin = { is: "relation", relation, thing: thing.id };
    const waits = template === "later" || template.waits;
    const says = waits ? whenSays(node.when, this.names.environmentOf(thing)) : true;
    if (says === false || says === "later") return;
    if (template !== "later" && says === true) {
      const figures = waits
        ? this.figures.figuresOfItsOwn(thing, template.references)
        : this.figures.figuresAlong(thing, template.references);
      if (figures === undefined) return;
      // Two routes may lead to one quantity; the form must not name it twice.
      if (distinct(figures)) {
        const rank = rankOf(relation.word);
        const { form, measure, when } = template;
        const slack = slackOf(node, measure);
        this.push({ name, form, figures, rank, slack, when }, origin, measure);
        return;
      }
    }
    const environment = this.names.environmentOf(thing);
    const when = waits && says === true ? undefined : node.when;
    const compiled = compileEquation(node.left, node.right, environment, when);
    this.addEquation(compiled, origin, node, name);
  }

  /** A relation the builder wrote: what is wrong with it is told. */
  ownRelation(at: FormulaScope, node: syntax.Relation, anchor: Anchor): void {
    const environment = this.names.environment(at, anchor);
    if (node.when !== undefined) {
      this.findings.raise(compileCondition(node.when, environment).problems, anchor);
    }
    const applies = whenSays(node.when, environment);
    if (applies === false || applies === "later") return;
    const when = applies === "figures" ? node.when : undefined;
    const compiled = compileEquation(node.left, node.right, environment, when);
    this.findings.raise(compiled.problems, anchor);
    const title =
      node.title?.value ??
      textAt({ ...anchor, span: { start: node.left.span.start, end: node.right.span.end } });
    const relation: RelationDefinition = {
      title,
      word: node.word,
      node,
      remarks: remarksOf(node.clauses),
      anchor,
    };
    const where = at.thing === undefined ? "" : at.thing.id.path;
    const name = `${where}: ${title} ${++this.own} ${at.uri}`;
    const origin: Origin = { is: "relation", relation, thing: at.thing?.id };
    this.addEquation(compiled, origin, node, name);
  }

  private addEquation(
    compiled: CompiledEquation<Location>,
    origin: Origin,
    node: syntax.Relation,
    name: string,
  ): void {
    if (!compiled.applies || compiled.later) return;
    const form = this.pool.form(compiled.left, compiled.right, compiled.references.length);
    const figures = compiled.references.map((reference) => this.figures.figure(reference));
    if (figures.length === 0) return;
    const { left } = compiled;
    const sum = left.op === "slot" ? figures[left.index] : undefined;
    if (sum !== undefined) {
      for (const use of compiled.stacks) {
        const wanted = { expression: use.wanted, figures };
        this.stacks.push({ use, figure: sum, wanted });
      }
    }
    const { when, measure } = compiled;
    const slack = slackOf(node, measure);
    this.push({ name, form, figures, rank: rankOf(node.word), slack, when }, origin, measure);
  }

  /** `inner_gap: 7/8 in`: how it is to come out. */
  private wish(variable: ModelVariable, entry: Entry, value: number): void {
    const { id, thing, measure } = variable;
    const form = this.pool.form({ op: "slot", index: 0 }, { op: "number", value }, 1);
    const name = `${id.name} wanted ${id.file}`;
    const origin: Origin = { is: "wish", entry, thing: thing.id };
    this.push({ name, form, figures: [id], rank: "wanted" }, origin, measure);
  }

  private push(equation: FigureEquation, origin: Origin, measure: Measure | undefined): void {
    this.list.push({ equation, origin, measure });
  }

  private formula(variable: ModelVariable, entry: Entry): void {
    const environment = this.names.environment(
      { thing: variable.thing, uri: entry.anchor.uri },
      entry.anchor,
    );
    const compiled = compileExpression(entry.value, environment, variable.measure.dimension);
    this.findings.raise(compiled.problems, entry.anchor);
    if (compiled.word !== undefined) {
      this.findings.add({
        is: "value/not-a-number result",
        measure: variable.measure,
        word: compiled.word,
        anchor: entry.anchor,
      });
    }
    const origin: Origin = { is: "formula", entry, thing: variable.thing.id };
    const rank = variable.variable.role === "wanted" ? "wanted" : "relation";
    this.assign(variable, compiled, origin, rank, entry.anchor);
  }

  private defaultFor(variable: ModelVariable, definition: FieldDefinition): void {
    if (definition.default === undefined) return;
    const { thing, id } = variable;
    const origin: Origin = { is: "default", field: definition, thing: thing.id };
    // `4 * diameter ± 1 mm`: how far it may come out from what the formula says.
    const { nominal, by } = withOwnSpread(definition.default);
    const slack = by === undefined ? undefined : readOff(by, variable.measure)?.off;
    const form = this.pool.defaultForm(definition);
    if (form !== undefined) {
      const name = `${id.name} = … ${id.file}`;
      const standing = this.figures.defaultStands(thing, definition);
      const asked = this.figures.isAsked(thing, definition.name);
      const rank = standing ? "relation" : asked ? "asked" : softness(definition);
      const assumption = standing && definition.role !== "constant";
      const equation = { name, form, figures: [id], rank, assumption, slack } as const;
      this.push(equation, origin, variable.measure);
      return;
    }
    const environment = this.names.environmentOf(thing);
    const dimension = variable.measure.dimension;
    const compiled = compileExpression(nominal, environment, dimension);
    this.assign(variable, compiled, origin, softness(definition), undefined, slack);
  }

  private assign(
    variable: ModelVariable,
    compiled: CompiledExpression<Location>,
    origin: Origin,
    rank: Rank,
    anchor: Anchor | undefined,
    slack?: number,
  ): void {
    if (!compiled.applies || compiled.later || compiled.word !== undefined) return;
    if (compiled.references.some((reference) => pathOf(reference) === variable.name)) {
      if (anchor !== undefined) {
        this.findings.add({
          is: "reference/itself formula",
          field: variable.field.name,
          path: variable.thing.path,
          anchor,
        });
      }
      return;
    }
    if (
      anchor !== undefined &&
      compiled.dimension.key !== variable.measure.dimension.key &&
      !isZero(compiled)
    ) {
      this.findings.add({
        is: "unit/clash",
        field: variable.field.name,
        measure: variable.measure,
        dimension: compiled.dimension,
        anchor,
      });
      return;
    }
    const { expression } = compiled;
    const slots = compiled.references.length;
    const form = this.pool.form({ op: "slot", index: slots }, expression, slots + 1);
    const figures = compiled.references.map((reference) => this.figures.figure(reference));
    figures.push(variable.id);
    const name = `${variable.id.name} = … ${variable.id.file}`;
    this.push({ name, form, figures, rank, slack }, origin, variable.measure);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** `a = b ± 1/32 in` */
function slackOf({ tolerance }: syntax.Relation, measure: Measure | undefined): number | undefined {
  if (tolerance === undefined || measure === undefined) return undefined;
  return readOff(tolerance, measure)?.off;
}

/** What the library would want where nobody says: wishes that are written go before it. */
function softness({ role }: FieldDefinition): Rank {
  return role === "wanted" ? "assumed" : "default";
}

function rankOf(word: syntax.RelationWord): Rank {
  return word === "assume" ? "assumed" : word;
}

function distinct(figures: readonly FigureId[]): boolean {
  return figures.every((figure, at) => figures.indexOf(figure) === at);
}

function isZero(compiled: CompiledExpression<unknown>): boolean {
  return compiled.expression.op === "number" && compiled.expression.value === 0;
}
