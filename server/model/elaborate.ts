/**
 * Turns things into one system of equations: a variable for every figure that is named, an
 * equation for every relation, formula and default that applies, a claim for every check.
 *
 *     const model = elaborate({ declarations, scope, … })   →   variables, equations, claims, asks
 *
 * Must not know: how systems are solved, how files are read, the trade.
 */
import type * as syntax from "../../grammar/syntax";
import type { Item } from "../../grammar/syntax";
import type { Quantity } from "../solve/system";
import {
  type Dimension,
  describeDimension,
  dimensionless,
  type Measure,
  measureNamed,
  measuresOf,
  readUnit,
} from "../units";
import type { Anchor } from "./anchor";
import { textAt } from "./anchor";
import { type Target, World, type Write } from "./build-things";
import {
  type CompiledCondition,
  type CompiledEquation,
  type CompiledExpression,
  compileCondition,
  compileEquation,
  compileExpression,
  type Denotation,
  type Environment,
  type Problem,
} from "./compile";
import type {
  CheckDefinition,
  CurveDefinition,
  FieldDefinition,
  RelationDefinition,
  Vocabulary,
} from "./definition";
import { type DesignationParts, formsInWords, readDesignation } from "./designation";
import { type Finding, Findings } from "./finding";
import { compileCheck, compileRelation, type FormPool, type Route } from "./kind-environment";
import { article, type Figure, type FigureReading, readFigure } from "./literal";
import type {
  Ask,
  Location,
  Model,
  ModelClaim,
  ModelCurve,
  ModelEquation,
  ModelStack,
  ModelVariable,
  Origin,
  Word,
} from "./model";
import type { Declaration, FileScope } from "./scope";
import { didYouMean, nameHint, nearest, withArticle } from "./spelling";
import type { Entry, Thing } from "./thing";
import { remarksOf } from "./vocabulary";

/** What is written at the top of a file beside its things. */
export interface TopLevel {
  readonly item: Item;
  readonly scope: FileScope;
}

export interface ElaborationInput {
  readonly declarations: readonly Declaration[];
  /** Top-level checks, relations and curves. */
  readonly statements: readonly TopLevel[];
  /** Top-level givens, then those of the option or records that are laid over, in order. */
  readonly writes: readonly Write[];
  /** What records say, held against the build without changing it: only its words are looked at. */
  readonly heldAgainst?: readonly Write[];
  /** Name tables and names as the root file sees them. */
  readonly vocabulary: Vocabulary;
  /** Shared formulas; lives as long as the vocabulary. */
  readonly pool: FormPool;
}

export function elaborate(input: ElaborationInput): Model {
  return new Elaboration(input).run();
}

interface Scope {
  readonly thing?: Thing;
  readonly scope: FileScope;
}

class Elaboration {
  private readonly findings = new Findings();
  private readonly world: World;
  private readonly variables: ModelVariable[] = [];
  private readonly equations: ModelEquation[] = [];
  private readonly claims: ModelClaim[] = [];
  private readonly curves: ModelCurve[] = [];
  private readonly asks: Ask[] = [];
  private readonly stacks: ModelStack[] = [];
  private readonly words = new Map<string, Word>();
  private byPath: ReadonlyMap<string, number> | undefined;
  private readonly designations = new Map<string, DesignationParts | undefined>();
  private readonly done = new Set<Thing>();

  constructor(private readonly input: ElaborationInput) {
    this.world = new World(input.declarations, (finding) => this.findings.add(finding));
    this.world.write(input.writes);
  }

  run(): Model {
    this.touchWritten();
    for (const { thing, key, entry } of this.world.asks) this.ask(thing, key, entry);
    for (const statement of this.input.statements) this.statement(statement);
    // Relations may imply further things whose parts have been written through references.
    for (let before = -1; before !== this.done.size; ) {
      before = this.done.size;
      for (const thing of [...this.world.everything()]) this.expand(thing);
    }
    const things = [...this.world.everything()];
    // Last, since following their names may imply things that nothing else speaks of.
    for (const write of this.input.heldAgainst ?? []) this.holdAgainst(undefined, write);
    return {
      things,
      variables: this.variables,
      equations: this.equations,
      claims: this.claims,
      curves: this.curves,
      asks: this.asks,
      stacks: this.stacks,
      words: this.words,
      findings: this.findings.list,
      variableAt: (path) => this.variablesByPath().get(path),
      resolve: (thing, scope, names) => this.world.resolve(thing, scope, names),
    };
  }

  private variablesByPath(): ReadonlyMap<string, number> {
    this.byPath ??= new Map(this.variables.map(({ name }, index) => [name, index]));
    return this.byPath;
  }

  // ── things ──

  private touchWritten(): void {
    for (const thing of [...this.world.everything()]) {
      for (const key of thing.entries.keys()) this.touch(thing, key);
    }
  }

  private touch(thing: Thing, key: string): void {
    const [fieldName = "", partName] = key.split(".");
    const field = thing.field(fieldName);
    if (field === undefined) return;
    const { type } = field;
    switch (type.form) {
      case "measure":
        this.variable({ thing, field });
        break;
      case "designation":
        if (partName !== undefined) {
          const part = type.designation.parts.get(partName);
          if (part !== undefined) this.variable({ thing, field, part });
        } else {
          this.word(thing, field);
          for (const [name, value] of this.partsOf(thing, field) ?? []) {
            const part = type.designation.parts.get(name);
            if (part !== undefined && typeof value === "number")
              this.variable({ thing, field, part });
          }
        }
        break;
      case "reference":
      case "part":
        this.world.linked(thing, field);
        break;
      case "list":
        this.world.listed(thing, field);
        this.listItems(thing, field);
        break;
      default:
        this.word(thing, field);
    }
  }

  /** Relations, defaults of headline figures, and checks of one thing. */
  private expand(thing: Thing): void {
    if (this.done.has(thing)) return;
    // A thing nobody wrote into only lends its names; its own relations would say nothing.
    if (thing.implied && !thing.written && !this.asked(thing)) return;
    this.done.add(thing);
    const { kind } = thing;
    for (const field of kind.fields.values()) {
      if (field.type.form === "part") this.world.linked(thing, field);
    }
    for (const relation of kind.relations) this.kindRelation(thing, relation);
    for (const check of kind.checks) this.kindCheck(thing, check);
    for (const curve of kind.curves) this.addCurve({ thing, scope: thing.scope }, curve, undefined);
    for (const { node, anchor } of thing.relations)
      this.ownRelation({ thing, scope: thing.scope }, node, anchor);
    for (const { node, anchor } of thing.checks)
      this.ownCheck({ thing, scope: thing.scope }, node, anchor);
    for (const { node, anchor } of thing.curves)
      this.ownCurve({ thing, scope: thing.scope }, node, anchor);
    for (const field of kind.fields.values()) {
      if (field.shown && field.type.form === "measure") this.variable({ thing, field });
    }
  }

  /** A default that stands is as good as given: tables and kits can be read by it. */
  private settledDefault(thing: Thing, field: FieldDefinition): number | undefined {
    if (!field.settled || field.default === undefined || field.type.form !== "measure")
      return undefined;
    if (thing.entries.has(field.name) || this.isAsked(thing, field.name)) return undefined;
    const literal = readFigure(field.default, field.type.measure, () => "");
    return literal.is === "figure" ? literal.figure.value : undefined;
  }

  private isAsked(thing: Thing, key: string): boolean {
    return this.world.asks.some((ask) => ask.thing === thing && ask.key === key);
  }

  private asked(thing: Thing): boolean {
    return this.asks.some((ask) => ask.thing === thing);
  }

  private statement({ item, scope }: TopLevel): void {
    const { node } = item;
    const anchor: Anchor = { uri: scope.file.uri, item, span: node.span };
    if (node.type === "check") this.ownCheck({ scope }, node, anchor);
    else if (node.type === "relation") this.ownRelation({ scope }, node, anchor);
    else if (node.type === "curve") this.ownCurve({ scope }, node, anchor);
  }

  // ── relations ──

  private kindRelation(thing: Thing, relation: RelationDefinition): void {
    const name = `${thing.path}: ${relation.title}`;
    const origin: Origin = { is: "relation", relation, thing };
    const template = this.input.pool.relation(thing.kind, relation.node, this.input.vocabulary);
    if (template === undefined) return;
    if (template !== "later") {
      const variables = this.figuresAlong(thing, template.references);
      if (variables === undefined) return;
      // Two routes may lead to one quantity; the form must not name it twice.
      if (distinct(variables)) {
        const rank = relation.assumed ? "assumed" : "relation";
        this.equations.push({
          name,
          form: template.form,
          variables,
          rank,
          origin,
          measure: template.measure,
        });
        return;
      }
    }
    const environment = this.environmentOf(thing);
    const compiled = compileRelation(relation.node, environment);
    if (compiled === undefined || compiled === "later") return;
    this.addEquation(compiled, origin, relation.assumed, name);
  }

  private ownRelation(at: Scope, node: syntax.Relation, anchor: Anchor): void {
    const environment = this.environment(at, anchor);
    const when = node.when === undefined ? undefined : compileCondition(node.when, environment);
    if (when !== undefined) {
      this.raise(when.problems, anchor);
      if (!isTrue(when)) return;
    }
    const compiled = compileEquation(node.left, node.right, environment);
    this.raise(compiled.problems, anchor);
    const title =
      node.title?.value ??
      textAt({ ...anchor, span: { start: node.left.span.start, end: node.right.span.end } });
    const relation: RelationDefinition = {
      title,
      assumed: node.assumed,
      node,
      remarks: remarksOf(node.clauses),
      anchor,
    };
    const name = `${at.thing?.path ?? at.scope.prefix}: ${title} ${this.equations.length}`;
    this.addEquation(compiled, { is: "relation", relation, thing: at.thing }, node.assumed, name);
  }

  private addEquation(
    compiled: CompiledEquation<Location>,
    origin: Origin,
    assumed: boolean,
    name: string,
  ): void {
    if (!compiled.applies || compiled.later || compiled.problems.length > 0) return;
    const form = this.input.pool.form(compiled.left, compiled.right, compiled.references.length);
    const variables = compiled.references.map((reference) => this.variable(reference));
    if (variables.length === 0) return;
    const { left } = compiled;
    const sum = left.op === "slot" ? variables[left.index] : undefined;
    if (sum !== undefined) {
      for (const use of compiled.stacks) {
        const wanted = { expression: use.wanted, variables };
        this.stacks.push({ use, variable: sum, wanted, thing: origin.thing });
      }
    }
    this.equations.push({
      name,
      form,
      variables,
      rank: assumed ? "assumed" : "relation",
      origin,
      measure: compiled.measure,
    });
  }

  /** The variables at the ends of routes from a thing; nothing where one leads nowhere. */
  private figuresAlong(thing: Thing, routes: readonly Route[]): number[] | undefined {
    const variables: number[] = [];
    for (const route of routes) {
      const variable = this.figureAlong(thing, route);
      if (variable === undefined) return undefined;
      variables.push(variable);
    }
    return variables;
  }

  private figureAlong(thing: Thing, route: Route): number | undefined {
    let at: Thing | undefined = thing;
    for (const hop of route.hops) {
      if (hop === "^") {
        at = at.owner;
      } else {
        const field = at.field(hop);
        at = field === undefined ? at.children.get(hop) : this.world.linked(at, field);
      }
      if (at === undefined) return undefined;
    }
    const known = at.figures.get(route.key);
    if (known !== undefined) return known;
    const field = at.field(route.field);
    if (field === undefined) return undefined;
    if (route.part === undefined) return this.variable({ thing: at, field });
    if (field.type.form !== "designation") return undefined;
    const part = field.type.designation.parts.get(route.part);
    if (part === undefined) return undefined;
    const parts = this.partsOf(at, field);
    const written = parts === undefined || parts.has(route.part) || at.entries.has(route.key);
    return written ? this.variable({ thing: at, field, part }) : undefined;
  }

  // ── checks and curves ──

  private kindCheck(thing: Thing, check: CheckDefinition): void {
    const template = this.input.pool.check(thing.kind, check.node, this.input.vocabulary);
    if (template === undefined) return;
    if (template !== "later") {
      const variables = this.figuresAlong(thing, template.references);
      if (variables === undefined) return;
      const { condition, compared } = template;
      this.claims.push({ condition, compared, variables, check, thing, own: false, applies: true });
      return;
    }
    const environment = this.environmentOf(thing);
    const compiled = compileCheck(check.node, environment);
    if (compiled === undefined || compiled === "later") return;
    if (!compiled.applies || compiled.later || compiled.problems.length > 0) return;
    this.addClaim(compiled, check, thing, false);
  }

  private ownCheck(at: Scope, node: syntax.Check, anchor: Anchor): void {
    const environment = this.environment(at, anchor);
    if (node.when !== undefined) {
      const when = compileCondition(node.when, environment);
      this.raise(when.problems, anchor);
      if (!isTrue(when)) return;
    }
    const compiled = compileCondition(node.condition, environment);
    this.raise(compiled.problems, anchor);
    if (compiled.problems.length > 0) return;
    const title = node.title?.value ?? textAt({ ...anchor, span: node.condition.span });
    const definition: CheckDefinition = { title, node, remarks: remarksOf(node.clauses), anchor };
    this.addClaim(compiled, definition, at.thing, true);
  }

  private addClaim(
    compiled: CompiledCondition<Location>,
    check: CheckDefinition,
    thing: Thing | undefined,
    own: boolean,
  ): void {
    const settled = compiled.condition.op === "always" && compiled.condition.value;
    // The builder's own checks are listed even where words alone settle them.
    if (settled && !own) return;
    this.claims.push({
      condition: compiled.condition,
      compared: compiled.compared,
      variables: compiled.references.map((reference) => this.variable(reference)),
      check,
      thing,
      own,
      applies: compiled.applies && !compiled.later,
    });
  }

  private addCurve(at: Scope, curve: CurveDefinition, anchor: Anchor | undefined): void {
    const { node } = curve;
    const environment = this.environment(at, anchor);
    const bounds = [node.from, node.to, ...(node.step === undefined ? [] : [node.step])].map(
      (bound) => compileExpression(bound, environment),
    );
    const dimension = bounds[0]?.dimension ?? dimensionless;
    const parameterMeasure =
      bounds.find((bound) => bound.measure !== undefined)?.measure ??
      measureWritten([node.from, node.to], dimension);
    if (parameterMeasure === undefined) return;
    const compiled = compileExpression(node.value, {
      ...environment,
      denote: (path) =>
        path.names.length === 1 && path.names[0]?.text === node.parameter.text
          ? { is: "quantity", reference: "parameter", measure: parameterMeasure }
          : environment.denote(path),
      keyOf: (reference) => (reference === "parameter" ? "" : pathOf(reference)),
      each: (kind, rest) => environment.each(kind, rest),
    } as Environment<Location | "parameter">);
    const all = [compiled, ...bounds];
    if (anchor !== undefined) for (const each of all) this.raise(each.problems, anchor);
    if (
      all.some(
        (each) =>
          each.problems.length > 0 || !each.applies || each.later || each.word !== undefined,
      )
    )
      return;
    const quantity = (each: CompiledExpression<Location | "parameter">): Quantity => ({
      expression: each.expression,
      variables: each.references.map((reference) =>
        reference === "parameter" ? -1 : this.variable(reference),
      ),
    });
    const slot = compiled.references.indexOf("parameter");
    const [from, to, step] = bounds.map(quantity);
    if (from === undefined || to === undefined) return;
    this.curves.push({
      curve,
      thing: at.thing,
      value: quantity(compiled),
      parameterSlot: slot < 0 ? undefined : slot,
      measure: compiled.measure ?? measureWritten([], compiled.dimension),
      parameterMeasure,
      from,
      to,
      step,
    });
  }

  private ownCurve(at: Scope, node: syntax.Curve, anchor: Anchor): void {
    this.addCurve(
      at,
      {
        name: node.name.text,
        title: node.title?.value ?? node.name.text,
        node,
        remarks: remarksOf(node.clauses),
        anchor,
      },
      anchor,
    );
  }

  // ── records ──

  /** Says which names and values of a record make no sense. */
  private holdAgainst(inside: Thing | undefined, write: Write): void {
    const { node, scope, item } = write;
    const anchor: Anchor = { uri: scope.file.uri, item, span: node.span };
    const target = this.world.resolve(inside, scope, node.path.names);
    if (target.is === "unknown") {
      const { problem } = this.unknownName(target);
      this.raise([problem], anchor);
      return;
    }
    if (node.type === "part") {
      if (target.is !== "thing") return;
      for (const member of node.members) {
        if (member.type === "given" || member.type === "part")
          this.holdAgainst(target.thing, { ...write, node: member });
      }
      return;
    }
    if (target.is !== "field") return;
    const { type } = target.part ?? target.field;
    if (type.form !== "measure") return;
    const reading = readFigure(node.value, type.measure, (span) => textAt({ ...anchor, span }));
    if (reading.is === "problem") this.raise([reading.problem], anchor);
  }

  // ── variables ──

  private variable(location: Location): number {
    const { thing, field, part } = location;
    const key = part === undefined ? field.name : `${field.name}.${part.name}`;
    return thing.figures.get(key) ?? this.newVariable(location, key);
  }

  private newVariable(location: Location, key: string): number {
    const { thing, field, part } = location;
    const definition = part ?? field;
    const path = `${thing.path}.${key}`;
    if (definition.type.form !== "measure") throw new Error(`no figure: ${path}`);
    const { measure } = definition.type;
    const index = this.variables.length;
    thing.figures.set(key, index);
    const entry = thing.entries.get(key);
    const figure = this.figureOf(location, entry);
    const variable: ModelVariable = {
      name: path,
      thing,
      field,
      part,
      measure,
      entry: entry ?? (part === undefined ? undefined : thing.entries.get(field.name)),
      figure,
      given:
        figure === undefined
          ? undefined
          : {
              value: figure.value,
              low: figure.low,
              high: figure.high,
              rounding: figure.rounding,
              fixed: field.fixed || definition.fixed || part !== undefined,
            },
      scale: measure.scale,
      range: this.rangeOf(definition),
      natural: field.natural,
    };
    this.variables.push(variable);
    if (figure === undefined && entry !== undefined) this.formula(index, variable, entry);
    else if (figure === undefined && definition.default !== undefined)
      this.defaultFor(index, variable, definition);
    return index;
  }

  private figureOf({ thing, field, part }: Location, entry: Entry | undefined): Figure | undefined {
    const definition = part ?? field;
    if (definition.type.form !== "measure") return undefined;
    if (entry !== undefined) {
      const reading = readEntry(entry, definition.type.measure);
      if (reading.is === "figure") return reading.figure;
      if (reading.is === "problem") this.raise([reading.problem], entry.anchor);
      return undefined;
    }
    if (part === undefined) return undefined;
    const value = this.partsOf(thing, field)?.get(part.name);
    if (typeof value !== "number") return undefined;
    return { value, low: value, high: value, rounding: 0, unit: "", toleranced: false };
  }

  private formula(index: number, variable: ModelVariable, entry: Entry): void {
    if (readEntry(entry, variable.measure).is !== "formula") return;
    const environment = this.environment(
      { thing: variable.thing, scope: entry.scope },
      entry.anchor,
    );
    const compiled = compileExpression(entry.value, environment, variable.measure.dimension);
    this.raise(compiled.problems, entry.anchor);
    if (compiled.word !== undefined) {
      this.findings.add({
        code: "value/not-a-number",
        severity: "error",
        message: `${article(variable.measure)} is expected here, not the word “${compiled.word}”`,
        anchor: entry.anchor,
      });
    }
    this.assign(
      index,
      variable,
      compiled,
      { is: "formula", entry, thing: variable.thing },
      "relation",
      entry.anchor,
    );
  }

  private defaultFor(index: number, variable: ModelVariable, definition: FieldDefinition): void {
    if (definition.default === undefined) return;
    const { thing } = variable;
    const origin: Origin = { is: "default", field: definition, thing };
    const form = this.input.pool.defaultForm(definition);
    if (form !== undefined) {
      const name = `${variable.name} = …`;
      const { measure } = variable;
      const standing = definition.settled && !this.isAsked(thing, definition.name);
      const rank = standing ? "relation" : "default";
      const assumption = standing;
      this.equations.push({ name, form, variables: [index], rank, assumption, origin, measure });
      return;
    }
    const environment = this.environmentOf(thing);
    const dimension = variable.measure.dimension;
    const compiled = compileExpression(definition.default, environment, dimension);
    this.assign(index, variable, compiled, origin, "default", undefined);
  }

  private assign(
    index: number,
    variable: ModelVariable,
    compiled: CompiledExpression<Location>,
    origin: Origin,
    rank: "relation" | "default",
    anchor: Anchor | undefined,
  ): void {
    if (
      compiled.problems.length > 0 ||
      !compiled.applies ||
      compiled.later ||
      compiled.word !== undefined
    )
      return;
    if (compiled.references.some((reference) => pathOf(reference) === variable.name)) {
      if (anchor !== undefined) {
        this.findings.add({
          code: "reference/itself",
          severity: "error",
          message: `\`${variable.field.name}\` of ${variable.thing.path} is worked out from itself`,
          hint: "leave it out of its own formula",
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
      this.findings.add(clash(variable, compiled, anchor));
      return;
    }
    const { expression } = compiled;
    const slots = compiled.references.length;
    const form = this.input.pool.form({ op: "slot", index: slots }, expression, slots + 1);
    const variables = compiled.references.map((reference) => this.variable(reference));
    this.equations.push({
      name: `${variable.name} = …`,
      form,
      variables: [...variables, index],
      rank,
      origin,
      measure: variable.measure,
    });
  }

  private rangeOf(definition: FieldDefinition): readonly [number, number] | undefined {
    return this.input.pool.range(definition);
  }

  // ── words ──

  private word(thing: Thing, field: FieldDefinition): string | boolean | undefined {
    const path = `${thing.path}.${field.name}`;
    const before = this.words.get(path);
    if (before !== undefined) return before.value;
    const entry = thing.entries.get(field.name);
    const node = entry?.value ?? field.default;
    if (node === undefined) return undefined;
    const value = entry === undefined ? defaultWord(node) : this.readWord(field, entry);
    if (value === undefined) return undefined;
    this.words.set(path, { thing, field, value, entry, assumed: entry === undefined });
    return value;
  }

  private readWord(field: FieldDefinition, entry: Entry): string | boolean | undefined {
    const { value, anchor } = entry;
    const raw = textAt(anchor).trim();
    const wrong = (message: string, hint?: string): undefined => {
      this.findings.add({ code: "value/wrong", severity: "error", message, hint, anchor });
      return undefined;
    };
    switch (field.type.form) {
      case "text":
        if (value.type === "text") return value.value;
        this.findings.add({
          code: "value/not-a-text",
          severity: "error",
          message: `\`${field.name}\` takes a text in double quotes`,
          anchor,
          fixes: [
            {
              title: `write "${raw}"`,
              edits: [{ anchor, text: JSON.stringify(raw) }],
              preferred: true,
            },
          ],
        });
        return undefined;
      case "yes_no":
        return value.type === "yes_no"
          ? value.value
          : wrong(`\`${field.name}\` takes yes or no, not \`${raw}\``);
      case "date":
        return value.type === "date"
          ? value.text
          : wrong(
              `\`${field.name}\` takes a date, not \`${raw}\``,
              "write it as year-month-day: 2026-03-14",
            );
      case "choice": {
        const name =
          value.type === "path"
            ? value.names.map((each) => each.text).join(".")
            : value.type === "text"
              ? value.value
              : raw;
        const { choices } = field.type;
        if (choices.includes(name)) return name;
        const near = nearest(name, choices);
        this.findings.add({
          code: "value/not-a-choice",
          severity: "error",
          message: `\`${field.name}\` is ${orList(choices)}, not \`${name}\``,
          hint: didYouMean(name, choices),
          anchor,
          fixes:
            near === undefined
              ? []
              : [{ title: `write ${near}`, edits: [{ anchor, text: near }], preferred: true }],
        });
        return undefined;
      }
      case "designation": {
        const parts = readDesignation(
          field.type.designation,
          value.type === "text" ? value.value : raw,
        );
        this.designations.set(`${anchor.uri} ${raw} ${field.type.designation.name}`, parts);
        if (parts !== undefined) return value.type === "text" ? value.value : raw;
        return wrong(
          `\`${raw}\` is not ${withArticle(field.type.designation.name)}`,
          `it is written ${formsInWords(field.type.designation)}`,
        );
      }
      default:
        return undefined;
    }
  }

  /** The parts of a designation, `undefined` where none is written (its parts are then unknown). */
  private partsOf(thing: Thing, field: FieldDefinition): DesignationParts | undefined {
    if (field.type.form !== "designation") return undefined;
    const path = `${thing.path}.${field.name}`;
    if (this.designations.has(path)) return this.designations.get(path);
    const value = this.word(thing, field);
    const parts =
      typeof value === "string" ? readDesignation(field.type.designation, value) : undefined;
    this.designations.set(path, parts);
    return parts;
  }

  // ── names in formulas ──

  private readonly environments = new Map<Thing, Environment<Location>>();

  /** For formulas of the thing's kind. */
  private environmentOf(thing: Thing): Environment<Location> {
    const before = this.environments.get(thing);
    if (before !== undefined) return before;
    const made = this.environment({ thing, scope: thing.scope }, undefined);
    this.environments.set(thing, made);
    return made;
  }

  private environment(at: Scope, anchor: Anchor | undefined): Environment<Location> {
    const self = this;
    return {
      vocabulary: at.scope.vocabulary,
      denote: (path) => self.denoteTarget(self.world.resolve(at.thing, at.scope, path.names), path),
      keyOf: pathOf,
      isGiven(path) {
        const target = self.world.resolve(at.thing, at.scope, path.names);
        if (target.is === "thing") return target.thing.written;
        if (target.is !== "field") return false;
        const { thing, field, part } = target;
        if (part !== undefined) return self.partsOf(thing, field)?.has(part.name) ?? false;
        return thing.entries.has(field.name);
      },
      each: (kind, rest) => self.each(kind, rest),
      notInTable: (message, span) => {
        if (at.thing === undefined && anchor === undefined) return;
        const place = anchor === undefined ? at.thing?.anchor : { ...anchor, span };
        if (place === undefined) return;
        const subject = at.thing === undefined ? "" : `${at.thing.path}: `;
        self.findings.add({
          code: "table/no-row",
          severity: "warning",
          message: `${subject}${message}`,
          hint: "give the figure itself, from its maker's data",
          anchor: place,
        });
      },
    };
  }

  private denoteTarget(target: Target, path: syntax.Path): Denotation<Location> {
    switch (target.is) {
      case "unset":
        return { is: "unset" };
      case "unknown":
        return this.unknownName(target);
      case "thing":
        return { is: "thing", title: path.names.map((name) => name.text).join(".") };
      case "list":
        return {
          is: "list",
          items: target.things.map((thing) =>
            target.rest.length === 0
              ? ({ is: "word", value: thing.path } as const)
              : this.denoteTarget(this.world.follow(thing, target.rest), path),
          ),
        };
      case "field":
        return this.denoteField(target);
    }
  }

  private unknownName(
    target: Extract<Target, { is: "unknown" }>,
  ): Extract<Denotation<Location>, { is: "unknown" }> {
    return {
      is: "unknown",
      problem: {
        code: target.code,
        message: target.message,
        span: target.name.span,
        // Looked up only where someone reads it: most unknown names turn out to be bare words.
        get hint() {
          return target.hint ?? nameHint(target.name.text, target.candidates);
        },
        get fixes() {
          return nearFix(target.name, target.candidates);
        },
      },
    };
  }

  private denoteField({
    thing,
    field,
    part,
  }: Extract<Target, { is: "field" }>): Denotation<Location> {
    const definition = part ?? field;
    if (part !== undefined) {
      const parts = this.partsOf(thing, field);
      const value = parts?.get(part.name);
      if (typeof value === "string") return { is: "word", value };
      const separately = thing.entries.has(`${field.name}.${part.name}`);
      if (parts !== undefined && value === undefined && !separately) return { is: "unset" };
      if (definition.type.form !== "measure") return { is: "unset" };
      return {
        is: "quantity",
        reference: { thing, field, part },
        measure: definition.type.measure,
        known: value,
      };
    }
    switch (definition.type.form) {
      case "measure": {
        const index = this.variable({ thing, field });
        return {
          is: "quantity",
          reference: { thing, field },
          measure: definition.type.measure,
          known: this.variables[index]?.figure?.value ?? this.settledDefault(thing, definition),
        };
      }
      case "list":
        return { is: "list", items: this.listItems(thing, field) };
      case "designation":
      case "text":
      case "yes_no":
      case "date":
      case "choice": {
        const value = this.word(thing, field);
        return value === undefined ? { is: "unset" } : { is: "word", value };
      }
      default:
        return { is: "unset" };
    }
  }

  /** Items of a list of figures or words, as written. */
  private listItems(thing: Thing, field: FieldDefinition): Denotation<Location>[] {
    const entry = thing.entries.get(field.name);
    const node = entry?.value ?? field.default;
    if (field.type.form !== "list" || node === undefined) return [];
    const items = node.type === "list" ? node.items : [node];
    const { of } = field.type;
    const values: Denotation<Location>[] = [];
    for (const [index, item] of items.entries()) {
      if (of.form !== "measure") {
        if (item.type === "text") values.push({ is: "word", value: item.value });
        else if (item.type === "path")
          values.push({ is: "word", value: item.names.map((name) => name.text).join(".") });
        continue;
      }
      const reading = readFigure(item, of.measure, () => "");
      if (reading.is === "problem" && entry !== undefined)
        this.raise([reading.problem], entry.anchor);
      if (reading.is === "formula" && entry !== undefined && item.type !== "missing")
        this.raise([notAFigure(item, of.measure)], entry.anchor);
      if (reading.is !== "figure") continue;
      // Each item is a quantity of its own, so that it can be named in explanations.
      const itemField: FieldDefinition = {
        ...field,
        name: `${field.name}[${index + 1}]`,
        type: of,
        default: undefined,
      };
      this.itemVariable(thing, itemField, reading.figure, entry, of.measure);
      values.push({
        is: "quantity",
        reference: { thing, field: itemField },
        measure: of.measure,
        known: reading.figure.value,
      });
    }
    return values;
  }

  private itemVariable(
    thing: Thing,
    field: FieldDefinition,
    figure: Figure,
    entry: Entry | undefined,
    measure: ModelVariable["measure"],
  ): void {
    if (thing.figures.has(field.name)) return;
    const path = pathOf({ thing, field });
    thing.figures.set(field.name, this.variables.length);
    this.variables.push({
      name: path,
      thing,
      field,
      measure,
      entry,
      figure,
      given: {
        value: figure.value,
        low: figure.low,
        high: figure.high,
        rounding: figure.rounding,
        fixed: field.fixed,
      },
      scale: measure.scale,
      natural: false,
    });
  }

  private each(kind: string, rest: syntax.Path | undefined): Denotation<Location> {
    const items: Denotation<Location>[] = [];
    for (const thing of [...this.world.everything()]) {
      if (!thing.is(kind) || (thing.implied && !thing.written)) continue;
      if (rest === undefined) items.push({ is: "word", value: thing.path });
      else items.push(this.denoteTarget(this.world.follow(thing, rest.names), rest));
    }
    return { is: "list", items };
  }

  // ── asking ──

  private ask(thing: Thing, key: string, entry: Entry): void {
    const [fieldName = "", partName] = key.split(".");
    const field = thing.field(fieldName);
    if (field === undefined) return;
    if (field.type.form === "designation" && partName !== undefined) {
      const part = field.type.designation.parts.get(partName);
      if (part !== undefined)
        this.asks.push({ thing, field, entry, variable: this.variable({ thing, field, part }) });
      return;
    }
    if (field.type.form === "measure") {
      this.asks.push({ thing, field, entry, variable: this.variable({ thing, field }) });
      return;
    }
    // An option may free a reference, so that any thing of the kind can stand there.
    if (entry.layer !== "spec") return;
    this.findings.add({
      code: "missing/not-a-figure",
      severity: "warning",
      message: `\`${fieldName}\` cannot be worked out: only figures can`,
      hint: `${whatToWrite(field)}, or leave the line out`,
      anchor: entry.anchor,
    });
  }

  private raise(problems: readonly Problem[], anchor: Anchor): void {
    for (const problem of problems) {
      const place: Anchor = { ...anchor, span: problem.span };
      const finding: Finding = {
        code: problem.code,
        severity: "error",
        message: problem.message,
        hint: problem.hint,
        anchor: place,
        fixes: problem.fixes?.map((fix) => ({
          title: fix.title,
          edits: [{ anchor: { ...anchor, span: fix.span }, text: fix.text }],
          preferred: problem.fixes?.length === 1,
        })),
      };
      this.findings.add(finding);
    }
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const readings = new WeakMap<syntax.Expression, { measure: Measure; reading: FigureReading }>();

/** A line is read once, however often its build is put together: for options, records, edits of others. */
function readEntry({ value, anchor }: Entry, measure: Measure): FigureReading {
  const before = readings.get(value);
  if (before !== undefined && before.measure === measure) return before.reading;
  const reading = readFigure(value, measure, (span) => textAt({ ...anchor, span }));
  readings.set(value, { measure, reading });
  return reading;
}

/** `rear_housing.face_to_face`: under the thing that owns it. */
export function pathOf({ thing, field, part }: Location): string {
  const path = `${thing.path}.${field.name}`;
  return part === undefined ? path : `${path}.${part.name}`;
}

function isTrue(compiled: CompiledCondition<unknown>): boolean {
  return (
    compiled.applies &&
    compiled.problems.length === 0 &&
    compiled.condition.op === "always" &&
    compiled.condition.value
  );
}

function distinct(indices: readonly number[]): boolean {
  return indices.every((index, at) => indices.indexOf(index) === at);
}

function isZero(compiled: CompiledExpression<unknown>): boolean {
  return compiled.expression.op === "number" && compiled.expression.value === 0;
}

/** "fixed, sliding or floating" */
function orList(words: readonly string[]): string {
  return words.length < 2
    ? words.join("")
    : `${words.slice(0, -1).join(", ")} or ${words[words.length - 1]}`;
}

function whatToWrite({ type }: FieldDefinition): string {
  switch (type.form) {
    case "choice":
      return `write ${orList(type.choices)}`;
    case "reference":
    case "part":
      return `name ${withArticle(type.kind)}`;
    default:
      return "write it";
  }
}

function defaultWord(node: syntax.Expression): string | boolean | undefined {
  switch (node.type) {
    case "text":
      return node.value;
    case "yes_no":
      return node.value;
    case "path":
      return node.names.map((name) => name.text).join(".");
    case "designation":
    case "date":
      return node.text;
    default:
      return undefined;
  }
}

function notAFigure(item: syntax.Expression, measure: ModelVariable["measure"]): Problem {
  return {
    code: "value/not-a-number",
    message: `a list holds written figures: ${article(measure)} is expected here`,
    span: item.span,
  };
}

function nearFix(name: syntax.Name, candidates: readonly string[]): Problem["fixes"] {
  const near = nearest(name.text, candidates);
  return near === undefined ? [] : [{ title: `write \`${near}\``, span: name.span, text: near }];
}

function clash(
  variable: ModelVariable,
  compiled: CompiledExpression<unknown>,
  anchor: Anchor,
): Finding {
  const found = describeDimension(compiled.dimension);
  return {
    code: "unit/clash",
    severity: "error",
    message: `\`${variable.field.name}\` is ${article(variable.measure)}, this formula gives ${found}`,
    hint: "check the units of its parts",
    anchor,
  };
}

/** Of what has no dimension only that is an angle, or a share, which is written in such a unit. */
function measureWritten(
  nodes: readonly syntax.Expression[],
  dimension: Dimension,
): Measure | undefined {
  const known = measuresOf(dimension);
  if (dimension.key !== dimensionless.key) return known[0];
  const units = nodes.flatMap(unitsIn);
  const written = known.find(({ name }) => units.some((unit) => readUnit(unit)?.measure === name));
  return written ?? measureNamed("number");
}

function unitsIn(node: syntax.Expression): string[] {
  switch (node.type) {
    case "quantity":
      return node.parts.map(({ unit }) => unit.text);
    case "unary":
      return unitsIn(node.operand);
    case "group":
      return unitsIn(node.inner);
    default:
      return [];
  }
}
