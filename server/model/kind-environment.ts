/**
 * Formulas of kinds, compiled once and used by every thing of the kind.
 *
 * A path in a relation of a kind becomes a route: which fields to follow from any thing of the
 * kind. What only a particular thing can answer (a choice, a list, a designation in a table)
 * makes the formula wait for the thing; where nothing but its `when` asks such, that alone waits.
 *
 * Must not know: things.
 */

import type * as syntax from "../../grammar/syntax";
import type { Problem } from "../findings/worded";
import { madeOnce } from "../keep/once";
import type { Expression } from "../solve/expression";
import type { EquationForm } from "../solve/system";
import type { Measure } from "../units";
import { compileCondition, compileEquation } from "./compile";
import type { CompiledCondition, CompiledEquation } from "./compiled";
import type { FieldDefinition, KindDefinition, Vocabulary } from "./definition";
import type { Denotation, Environment } from "./denotation";
import { readFigure } from "./literal";
import { nearest } from "./spelling";

/** From a thing of a kind to a figure: `^` goes to the owner, a name through that field. */
export interface Route {
  readonly hops: readonly string[];
  readonly field: string;
  readonly part?: string;
  /** `offset` or `size.width`: how the thing at the end keeps it. */
  readonly key: string;
  /** What the figure is a measure of. */
  readonly measure: Measure;
}

/** One of the routes of a kind, each of which is followed once from a thing. */
export interface KindRoute extends Route {
  /** Among the routes of its kind. */
  readonly place: number;
}

/** Whether the `when` alone waits for the thing, and all else is the same for all. */
interface Waits {
  readonly waits: boolean;
}

/** `undefined`: does not apply or cannot be understood; `later`: compile it for each thing. */
export type Template =
  | (CompiledEquation<KindRoute> & Waits & { readonly form: EquationForm })
  | "later"
  | undefined;
export type CheckTemplate = (CompiledCondition<KindRoute> & Waits) | "later" | undefined;

const mostForms = 20_000;
/** In characters of what they are told apart by: some forms are long. */
const mostTold = 8_000_000;

/** Keeps compiled forms, so that equal formulas share one form and what was worked out for it. */
export class FormPool {
  private readonly forms = new Map<string, EquationForm>();
  private told = 0;
  // The pool lives as long as the library: what a build declares goes when the build does.
  private readonly templates = new WeakMap<KindDefinition, readonly Template[]>();
  private readonly checkTemplates = new WeakMap<KindDefinition, readonly CheckTemplate[]>();
  private readonly routes = new WeakMap<KindDefinition, Map<string, KindRoute>>();
  private readonly defaults = new WeakMap<FieldDefinition, EquationForm | undefined>();
  private readonly ranges = new WeakMap<FieldDefinition, readonly [number, number] | undefined>();

  form(left: Expression, right: Expression, slots: number): EquationForm {
    const key = `${slots} ${JSON.stringify([left, right])}`;
    const before = this.forms.get(key);
    if (before !== undefined) return before;
    this.told += key.length;
    if (this.forms.size >= mostForms || this.told > mostTold) {
      this.forms.clear();
      this.told = key.length;
    }
    const form: EquationForm = { left, right, slots };
    this.forms.set(key, form);
    return form;
  }

  /** In the order of the kind's relations. */
  relations(kind: KindDefinition, vocabulary: Vocabulary): readonly Template[] {
    return madeOnce(this.templates, kind, () =>
      kind.relations.map(({ node }) => this.relation(kind, node, vocabulary)),
    );
  }

  /** In the order of the kind's checks. */
  checks(kind: KindDefinition, vocabulary: Vocabulary): readonly CheckTemplate[] {
    return madeOnce(this.checkTemplates, kind, () =>
      kind.checks.map(({ node }) => this.check(kind, node, vocabulary)),
    );
  }

  private relation(kind: KindDefinition, node: syntax.Relation, vocabulary: Vocabulary): Template {
    const made = sameForAll(kind, vocabulary, node.when, (environment, when) =>
      compileRelation(node, when, environment),
    );
    if (made === undefined || made === "later") return made;
    const { left, right, references } = made;
    const form = this.form(left, right, references.length);
    return { ...made, form, references: this.routesOf(kind, references) };
  }

  private check(kind: KindDefinition, node: syntax.Check, vocabulary: Vocabulary): CheckTemplate {
    const made = sameForAll(kind, vocabulary, node.when, (environment, when) =>
      compileCheck(node, when, environment),
    );
    if (made === undefined || made === "later") return made;
    return { ...made, references: this.routesOf(kind, made.references) };
  }

  private routesOf(kind: KindDefinition, routes: readonly Route[]): readonly KindRoute[] {
    const known = madeOnce(this.routes, kind, () => new Map<string, KindRoute>());
    return routes.map((route) =>
      madeOnce(known, [...route.hops, route.key].join(" "), () => ({
        ...route,
        place: known.size,
      })),
    );
  }

  /** Field = its default, where the default is a figure and no formula. */
  defaultForm(definition: FieldDefinition): EquationForm | undefined {
    return madeOnce(this.defaults, definition, () => {
      const { type, default: node } = definition;
      const literal =
        type.form === "measure" && node !== undefined ? readFigure(node, type.measure) : undefined;
      return literal?.is === "figure"
        ? this.form({ op: "slot", index: 0 }, { op: "number", value: literal.figure.value }, 1)
        : undefined;
    });
  }

  range(definition: FieldDefinition): readonly [number, number] | undefined {
    return madeOnce(this.ranges, definition, () => readRange(definition));
  }
}

/**
 * What all things of a kind have in common of a formula. Where nothing but its `when` waits for the
 * thing, it is compiled without that; what looks something up in a table may come out otherwise for
 * a thing whose figures are known.
 */
function sameForAll<C extends CompiledEquation<Route> | CompiledCondition<Route>>(
  kind: KindDefinition,
  vocabulary: Vocabulary,
  when: syntax.Expression | undefined,
  compile: (
    environment: Environment<Route>,
    when: syntax.Expression | undefined,
  ) => C | "later" | undefined,
): (C & Waits) | "later" | undefined {
  const environment = new KindEnvironment(kind, vocabulary);
  const compiled = compile(environment, when);
  const usable = (made: C | undefined): made is C => made?.applies === true;
  if (!(environment.waits || compiled === "later" || compiled?.later))
    return usable(compiled) ? { ...compiled, waits: false } : undefined;
  if (when === undefined) return "later";
  const further = new KindEnvironment(kind, vocabulary);
  const bare = compile(further, undefined);
  if (further.waits || bare === "later" || bare?.later || !usable(bare)) return "later";
  return looksUp(bare) ? "later" : { ...bare, waits: true };
}

function looksUp(compiled: CompiledEquation<Route> | CompiledCondition<Route>): boolean {
  const all = "condition" in compiled ? [compiled.condition] : [compiled.left, compiled.right];
  return JSON.stringify(all).includes('"op":"lookup"');
}

/** The equation of a relation, `undefined` where its `when` says no. */
function compileRelation(
  { left, right }: syntax.Relation,
  when: syntax.Expression | undefined,
  environment: Environment<Route>,
): CompiledEquation<Route> | "later" | undefined {
  const says = whenSays(when, environment);
  if (says === "later") return "later";
  if (says === false) return undefined;
  return compileEquation(left, right, environment, says === "figures" ? when : undefined);
}

/** The condition of a check, `undefined` where its `when` says no. */
function compileCheck(
  { condition }: syntax.Check,
  when: syntax.Expression | undefined,
  environment: Environment<Route>,
): CompiledCondition<Route> | "later" | undefined {
  const says = whenSays(when, environment);
  if (says === "later") return "later";
  if (says === false) return undefined;
  return compileCondition(condition, environment, says === "figures" ? when : undefined);
}

/** Whether a `when` holds by its words alone; `figures` where the solver has to decide it. */
export function whenSays<R>(
  node: syntax.Expression | undefined,
  environment: Environment<R>,
): boolean | "later" | "figures" {
  if (node === undefined) return true;
  const when = compileCondition(node, environment);
  if (when.later) return "later";
  if (!when.applies) return false;
  const { condition } = when;
  return condition.op === "always" ? condition.value : "figures";
}

/** Problems in a kind's formulas, for those who write kinds. */
export function kindEnvironment(kind: KindDefinition, vocabulary: Vocabulary): Environment<Route> {
  return new KindEnvironment(kind, vocabulary);
}

class KindEnvironment implements Environment<Route> {
  /** True once something was met that only a thing can answer. */
  waits = false;

  constructor(
    private readonly kind: KindDefinition,
    readonly vocabulary: Vocabulary,
  ) {}

  keyOf(route: Route): string {
    return [...route.hops, route.key].join(".");
  }

  isGiven(path: syntax.Path): Problem | undefined {
    this.waits = true;
    const denotation = this.denote(path);
    return denotation.is === "unknown" ? denotation.problem : undefined;
  }

  each(): Denotation<Route> {
    this.waits = true;
    return { is: "later" };
  }

  denote(path: syntax.Path): Denotation<Route> {
    const [first] = path.names;
    const hops: string[] = [];
    let kind: KindDefinition | undefined = this.kind;
    if (first.text === "owner" && !kind.fields.has("owner") && kind.owner !== undefined) {
      const owner = this.vocabulary.kinds.get(kind.owner);
      return owner === undefined ? this.later() : this.through(owner, path.names.slice(1), ["^"]);
    }
    while (kind !== undefined && !kind.fields.has(first.text)) {
      kind = kind.owner === undefined ? undefined : this.vocabulary.kinds.get(kind.owner);
      hops.push("^");
    }
    if (kind === undefined) return this.unknown(first, this.kind);
    return this.through(kind, path.names, hops);
  }

  private through(
    start: KindDefinition,
    names: readonly syntax.Name[],
    hops: string[],
  ): Denotation<Route> {
    let kind = start;
    for (const [index, name] of names.entries()) {
      const field = kind.fields.get(name.text);
      if (field === undefined) return this.unknown(name, kind);
      const { type } = field;
      const last = index === names.length - 1;
      switch (type.form) {
        case "reference":
        case "part": {
          const next = this.vocabulary.kinds.get(type.kind);
          if (next === undefined) return this.later();
          if (last) return { is: "thing", title: name.text };
          hops.push(name.text);
          kind = next;
          continue;
        }
        case "measure":
          if (!last) return this.unknown(names[index + 1] ?? name, kind);
          return {
            is: "quantity",
            reference: { hops, field: name.text, key: name.text, measure: type.measure },
            measure: type.measure,
          };
        case "designation": {
          const partName = names[index + 1];
          const part =
            partName === undefined ? undefined : type.designation.parts.get(partName.text);
          if (partName !== undefined && part === undefined)
            return this.unknown(partName, kind, [...type.designation.parts.keys()]);
          if (part === undefined || part.type.form !== "measure") return this.later();
          return {
            is: "quantity",
            reference: {
              hops,
              field: name.text,
              part: part.name,
              key: `${name.text}.${part.name}`,
              measure: part.type.measure,
            },
            measure: part.type.measure,
            settled: true,
          };
        }
        default:
          return this.later();
      }
    }
    return this.later();
  }

  private later(): Denotation<Route> {
    this.waits = true;
    return { is: "later" };
  }

  private unknown(
    name: syntax.Name,
    kind: KindDefinition,
    candidates: readonly string[] = [...kind.fields.keys()],
  ): Denotation<Route> {
    const near = nearest(name.text, candidates);
    const fact = { is: "name/unknown-field", name: name.text, kind: kind.name, near } as const;
    return { is: "unknown", problem: { ...fact, span: name.span } };
  }
}

/** The limits of what a field can be, in SI. */
export function readRange(definition: FieldDefinition): readonly [number, number] | undefined {
  const { type, range } = definition;
  if (type.form !== "measure") return undefined;
  if (range === undefined) return type.measure.whole ? [0, 1e6] : undefined;
  const low = readFigure(range.low, type.measure);
  const high = readFigure(range.high, type.measure);
  if (low.is !== "figure" || high.is !== "figure" || low.figure.value > high.figure.value)
    return undefined;
  return [low.figure.value, high.figure.value];
}
