/**
 * Figures that are named anywhere, each a variable of the system: made when first asked for.
 *
 *     figures.variable({ thing: rear, field: offset })   →   7, the index of `rear.offset`
 *
 * Must not know: how formulas are compiled, which relations there are.
 */
import type * as syntax from "../../grammar/syntax";
import type { Role } from "../solve/system";
import type { Measure } from "../units";
import { textAt } from "./anchor";
import type { World } from "./build-things";
import type { FieldDefinition } from "./definition";
import type { Denotation, Problem } from "./denotation";
import type { Findings } from "./finding";
import type { FormPool, Route } from "./kind-environment";
import { article, type Figure, type FigureReading, readFigure } from "./literal";
import type { Location, ModelVariable } from "./model";
import type { Entry, Thing } from "./thing";
import type { Words } from "./words";

/** The variables of a build, its lists of figures and what gives them. */
export class Figures {
  /** In the order in which they were asked for. */
  readonly list: ModelVariable[] = [];

  constructor(
    private readonly world: World,
    private readonly words: Words,
    private readonly pool: FormPool,
    private readonly findings: Findings,
    /** Told of each figure that is not written as one: a formula or a default may give it. */
    private readonly workOut: (
      index: number,
      variable: ModelVariable,
      entry: Entry | undefined,
    ) => void,
  ) {}

  /** The index of a figure's variable. */
  variable(location: Location): number {
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
    const index = this.list.length;
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
            },
      scale: measure.scale,
      range: this.pool.range(definition),
      angle: measure.name === "angle",
      role: this.roleOf(thing, field, entry),
      askedFirst: isAskedFirst(field),
    };
    this.list.push(variable);
    if (figure === undefined) this.workOut(index, variable, entry);
    return index;
  }

  private figureOf({ thing, field, part }: Location, entry: Entry | undefined): Figure | undefined {
    const definition = part ?? field;
    if (definition.type.form !== "measure") return undefined;
    if (entry !== undefined) {
      const reading = readEntry(entry, definition.type.measure);
      if (reading.is === "figure") return reading.figure;
      if (reading.is === "problem") this.findings.raise([reading.problem], entry.anchor);
      return undefined;
    }
    if (part === undefined) return undefined;
    const value = this.words.partsOf(thing, field)?.get(part.name);
    if (typeof value !== "number") return undefined;
    return { value, low: value, high: value, rounding: 0, unit: "", toleranced: false };
  }

  /** Items of a list of figures or words, as written. */
  listItems(thing: Thing, field: FieldDefinition): Denotation<Location>[] {
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
        this.findings.raise([reading.problem], entry.anchor);
      if (reading.is === "formula" && entry !== undefined && item.type !== "missing")
        this.findings.raise([notAFigure(item, of.measure)], entry.anchor);
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
    thing.figures.set(field.name, this.list.length);
    this.list.push({
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
      },
      scale: measure.scale,
      role: field.role,
      askedFirst: false,
    });
  }

  /** What a figure is: as its build says, where it is written or where it is asked for, or its field. */
  private roleOf(thing: Thing, field: FieldDefinition, entry: Entry | undefined): Role | undefined {
    const asked = this.world.asks.find((ask) => ask.thing === thing && ask.key === field.name);
    return entry?.role ?? asked?.entry.role ?? field.role;
  }

  /** A default that stands is as good as given: tables and kits can be read by it. */
  standingDefault(thing: Thing, field: FieldDefinition): number | undefined {
    if (field.default === undefined || field.type.form !== "measure") return undefined;
    if (thing.entries.has(field.name) || !this.defaultStands(thing, field)) return undefined;
    const literal = readFigure(field.default, field.type.measure, () => "");
    return literal.is === "figure" ? literal.figure.value : undefined;
  }

  /** Whether its default holds as firmly as if it were written: it says how things are done. */
  defaultStands(thing: Thing, field: FieldDefinition): boolean {
    if (field.role === "constant") return true;
    const firm = field.foundOut || (field.role !== undefined && standingRoles.has(field.role));
    return firm && !this.isAsked(thing, field.name);
  }

  /** Whether the builder wrote `?` there. */
  isAsked(thing: Thing, key: string): boolean {
    return this.world.asks.some((ask) => ask.thing === thing && ask.key === key);
  }

  /** The variables at the ends of routes from a thing; nothing where one leads nowhere. */
  figuresAlong(thing: Thing, routes: readonly Route[]): number[] | undefined {
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
    const parts = this.words.partsOf(at, field);
    const written = parts === undefined || parts.has(route.part) || at.entries.has(route.key);
    return written ? this.variable({ thing: at, field, part }) : undefined;
  }
}

/** `rear_housing.face_to_face`: under the thing that owns it. */
export function pathOf({ thing, field, part }: Location): string {
  const path = `${thing.path}.${field.name}`;
  return part === undefined ? path : `${path}.${part.name}`;
}

/** A line is read once, however often its build is put together: for options, records, edits of others. */
export function readEntry({ value, anchor }: Entry, measure: Measure): FigureReading {
  const before = readings.get(value);
  if (before !== undefined && before.measure === measure) return before.reading;
  const reading = readFigure(value, measure, (span) => textAt({ ...anchor, span }));
  readings.set(value, { measure, reading });
  return reading;
}

// ───────────────────────────── helpers ─────────────────────────────

const standingRoles: ReadonlySet<Role> = new Set(["case", "setting", "limit"]);
const readRoles: ReadonlySet<Role> = new Set(["measured", "bought", "wanted", "case"]);

function isAskedFirst({ role, needs }: FieldDefinition): boolean {
  return needs !== undefined || (role !== undefined && readRoles.has(role));
}

const readings = new WeakMap<syntax.Expression, { measure: Measure; reading: FigureReading }>();

function notAFigure(item: syntax.Expression, measure: ModelVariable["measure"]): Problem {
  return {
    code: "value/not-a-number",
    message: `a list holds written figures: ${article(measure)} is expected here`,
    span: item.span,
  };
}
