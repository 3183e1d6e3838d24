/**
 * What is known of a figure from its thing alone: what is written of it, what its field says, and
 * how the solver sees it.
 *
 *     figureOf(rear, "offset", pool)?.variable.given   →   { value: 0.018, … }
 *
 * Must not know: who speaks of it, how formulas are compiled.
 */

import type * as syntax from "../../grammar/syntax";
import type { Problem } from "../findings/worded";
import { madeOnce } from "../keep/once";
import type { GivenNumber, Making, Role, Variable } from "../solve/system";
import type { Measure } from "../units";
import type { FieldDefinition } from "./definition";
import type { Denotation } from "./denotation";
import type { FormPool } from "./kind-environment";
import {
  type FigureReading,
  type LiteralFigure,
  readDifference,
  readFigure,
  readOff,
} from "./literal";
import type { Location, ModelVariable } from "./model";
import type { Entry, Thing } from "./thing";
import { designationOf } from "./words";

/** What is known of a figure from its thing alone; undefined where the key names none. */
export function figureOf(thing: Thing, key: string, pool: FormPool): ModelVariable | undefined {
  const before = thing.figures.get(key);
  if (before !== undefined) return before;
  const location = locationOf(thing, key);
  if (location === undefined) return undefined;
  const made = define(location, key, pool);
  if (made !== undefined) thing.figures.set(key, made);
  return made;
}

/** A line is read once, however often its build is put together: for options, records, edits of others. */
export function readEntry({ value }: Entry, measure: Measure): FigureReading {
  const before = readings.get(value);
  if (before !== undefined && before.measure === measure) return before.reading;
  const reading = readFigure(value, measure);
  readings.set(value, { measure, reading });
  return reading;
}

/** Whether the solver would see the same variable. */
export function sameVariable(one: Variable, other: Variable): boolean {
  const { given, range } = one;
  return (
    one.name === other.name &&
    one.scale === other.scale &&
    one.role === other.role &&
    one.askedFirst === other.askedFirst &&
    one.angle === other.angle &&
    one.near === other.near &&
    one.whole === other.whole &&
    range?.[0] === other.range?.[0] &&
    range?.[1] === other.range?.[1] &&
    given?.value === other.given?.value &&
    given?.low === other.given?.low &&
    given?.high === other.given?.high &&
    given?.rounding === other.given?.rounding &&
    given?.distribution === other.given?.distribution &&
    given?.together === other.given?.together &&
    one.wish?.value === other.wish?.value &&
    one.wish?.low === other.wish?.low &&
    one.wish?.high === other.wish?.high &&
    one.twin === other.twin &&
    one.making?.step === other.making?.step &&
    one.making?.off === other.making?.off &&
    one.making?.offShare === other.making?.offShare &&
    one.making?.said === other.making?.said &&
    one.making?.order === other.making?.order &&
    one.making?.turned === other.making?.turned
  );
}

// ───────────────────────────── helpers ─────────────────────────────

/** How work is done and what is held against it: seldom anything but as usual. */
const usualRoles: ReadonlySet<Role | undefined> = new Set(["setting", "limit"]);
const readRoles: ReadonlySet<Role | undefined> = new Set(["measured", "bought", "wanted", "case"]);

function isAskedFirst({ role, needs }: FieldDefinition): boolean {
  return needs !== undefined || readRoles.has(role);
}

export function stands({ role, foundOut }: FieldDefinition, asked: boolean): boolean {
  return role === "constant" || (foundOut && !asked);
}

const readings = new WeakMap<syntax.Expression, { measure: Measure; reading: FigureReading }>();

/** `offset`, `size.width`, or an item of a list: `sizes[2]`. */
function locationOf(thing: Thing, key: string): Location | undefined {
  const bracket = key.indexOf("[");
  if (bracket > 0) {
    const list = thing.field(key.slice(0, bracket));
    return list === undefined ? undefined : itemLocation(thing, list, key);
  }
  const dot = key.indexOf(".");
  const field = thing.field(dot < 0 ? key : key.slice(0, dot));
  if (field === undefined || dot < 0) return field && { thing, field };
  if (field.type.form !== "designation") return undefined;
  const part = field.type.designation.parts.get(key.slice(dot + 1));
  return part && { thing, field, part };
}

/** Each item is a quantity of its own, so that it can be named in explanations. */
function itemLocation(thing: Thing, list: FieldDefinition, key: string): Location | undefined {
  if (list.type.form !== "list") return undefined;
  return { thing, field: { ...list, name: key, type: list.type.of, default: undefined } };
}

function define(location: Location, key: string, pool: FormPool): ModelVariable | undefined {
  const { thing, field, part } = location;
  const definition = part ?? field;
  if (definition.type.form !== "measure") return undefined;
  const { measure } = definition.type;
  const item = key.endsWith("]");
  const list = item ? thing.field(key.slice(0, key.indexOf("["))) : undefined;
  const entry = thing.entries.get(list?.name ?? key);
  const figure =
    list === undefined
      ? writtenFigure(location, entry, measure)
      : listOf(thing, list).figures.get(key);
  if (item && figure === undefined) return undefined;
  const id = thing.id.figure(key);
  const asked = thing.asked.get(field.name);
  const plain = entry === undefined && asked === undefined && part === undefined && !item;
  const known = plain ? unwritten.get(field) : undefined;
  const variable: Variable =
    known === undefined
      ? variableOf(location, key, { entry, asked, figure }, pool)
      : { ...known, name: id.name, twin: twinOf(thing, key) };
  if (plain && known === undefined) unwritten.set(field, variable);
  return {
    id,
    name: `${thing.path}.${key}`,
    thing,
    field,
    part,
    measure,
    entry: entry ?? (part === undefined ? undefined : thing.entries.get(field.name)),
    figure,
    variable,
  };
}

/** As it is for every thing of the kind that says nothing of it, but for what it is called. */
const unwritten = new WeakMap<FieldDefinition, Variable>();

/** As the solver sees it. */
function variableOf(
  { thing, field, part }: Location,
  key: string,
  {
    entry,
    asked,
    figure,
  }: {
    readonly entry: Entry | undefined;
    readonly asked: Entry | undefined;
    readonly figure: LiteralFigure | undefined;
  },
  pool: FormPool,
): Variable {
  const definition = part ?? field;
  const { measure } = definition.type as Extract<FieldDefinition["type"], { form: "measure" }>;
  const item = key.endsWith("]");
  const role = item ? field.role : roleOf(field, entry, asked);
  // A wish gives way: it enters as an equation and not as a given.
  const wished = figure !== undefined && role === "wanted" && part === undefined && !item;
  return {
    name: thing.id.figure(key).name,
    given: figure === undefined || wished ? undefined : givenOf(figure, entry),
    wish: figure === undefined || !wished ? undefined : givenOf(figure, entry),
    scale: measure.scale,
    range: item ? undefined : pool.range(definition),
    angle: !item && measure.name === "angle",
    ...(measure.whole ? { whole: asked === undefined ? "counted" : "sought" } : {}),
    ...(item ? {} : meantAnswer(thing.asked.get(key), measure)),
    role,
    making: item ? undefined : makingOf(field, role, entry ?? asked, measure),
    twin: item ? undefined : twinOf(thing, key),
    askedFirst: !item && isAskedFirst(field),
  };
}

function givenOf(
  { value, low, high, rounding }: LiteralFigure,
  entry: Entry | undefined,
): GivenNumber {
  const { distribution, together } = entry ?? {};
  const spread = {
    ...(distribution === undefined ? {} : { distribution }),
    ...(together === undefined ? {} : { together }),
  };
  return { value, low, high, rounding, ...spread };
}

/** `? near 30 deg` and `? near 0..90 deg`: which of several answers is meant. */
function meantAnswer(
  asked: Entry | undefined,
  measure: Measure,
): Pick<Variable, "near"> | Pick<Variable, "range"> {
  if (asked?.near === undefined) return {};
  const reading = readFigure(asked.near, measure);
  if (reading.is !== "figure") return {};
  const { value, low, high } = reading.figure;
  return high > low ? { range: [low, high] } : { near: value };
}

/**
 * What a figure is: as its build says, or its field. What was recorded was measured, and a figure
 * with a step or a tolerance to make it to is made.
 */
function roleOf(
  { role }: FieldDefinition,
  entry: Entry | undefined,
  asked: Entry | undefined,
): Role | undefined {
  if (entry?.layer === "record") return "measured";
  const said = entry ?? asked;
  const toBeMade = said?.step !== undefined || said?.tolerance !== undefined;
  return said?.role ?? role ?? (toBeMade ? "made" : undefined);
}

function makingOf(
  field: FieldDefinition,
  role: Role | undefined,
  said: Entry | undefined,
  measure: Measure,
): Making | undefined {
  if (role !== "made" && role !== "bought") return undefined;
  const step = said?.step ?? field.step;
  const tolerance = said?.tolerance ?? field.tolerance;
  const size = step === undefined ? undefined : readDifference(step, measure);
  const off = tolerance === undefined ? undefined : readOff(tolerance, measure);
  return {
    ...(size === undefined || !(size > 0) ? {} : { step: size }),
    ...(off ?? { off: 0, offShare: 0 }),
    said: role === "made" && (said?.role !== undefined || field.role !== "made"),
    order: field.place,
  };
}

/** `rear.(corner).tube_mark` for the left and the right: parts of one kind in one thing are alike. */
function twinOf(thing: Thing, key: string): string | undefined {
  if (thing.owner === undefined) return undefined;
  const mirrored = madeOnce(mirrors, thing, () => mirroredPath(thing));
  return mirrored && `${mirrored}.${key}`;
}

const mirrors = new WeakMap<Thing, string | undefined>();

function mirroredPath(thing: Thing): string | undefined {
  const steps: string[] = [];
  let mirrored = false;
  let at: Thing = thing;
  for (let { owner } = at; owner !== undefined; owner = at.owner) {
    const { name, kind } = at;
    const part = owner.parts.get(name) === at && partsOfKind(owner.kind, kind.name) > 1;
    mirrored ||= part;
    steps.unshift(part ? `(${kind.name})` : name);
    at = owner;
  }
  return mirrored ? [at.path, ...steps].join(".") : undefined;
}

const partCounts = new WeakMap<Thing["kind"], Map<string, number>>();

function partsOfKind(owner: Thing["kind"], kind: string): number {
  const counts = madeOnce(partCounts, owner, () => {
    const made = new Map<string, number>();
    for (const { type } of owner.fields.values()) {
      if (type.form === "part") made.set(type.kind, (made.get(type.kind) ?? 0) + 1);
    }
    return made;
  });
  return counts.get(kind) ?? 0;
}

function writtenFigure(
  { thing, field, part }: Location,
  entry: Entry | undefined,
  measure: Measure,
): LiteralFigure | undefined {
  if (entry !== undefined) {
    const reading = readEntry(entry, measure);
    return reading.is === "figure" ? reading.figure : undefined;
  }
  const value = part === undefined ? undefined : designationOf(thing, field)?.get(part.name);
  if (typeof value !== "number") return undefined;
  return { value, low: value, high: value, rounding: 0, unit: "", toleranced: false };
}

export function knownNumber(thing: Thing, key: string, pool: FormPool): number | undefined {
  const written = figureOf(thing, key, pool)?.figure?.value;
  if (written !== undefined) return written;
  const field = thing.field(key);
  // A default nobody solves for is as good as given.
  if (field?.default === undefined || field.type.form !== "measure") return undefined;
  const asked = thing.asked.has(key);
  const usual = usualRoles.has(field.role) && !asked;
  if (thing.entries.has(key) || !(usual || stands(field, asked))) return undefined;
  const literal = readFigure(field.default, field.type.measure);
  return literal.is === "figure" ? literal.figure.value : undefined;
}

interface ListReading {
  readonly field: FieldDefinition;
  readonly items: Denotation<Location>[];
  readonly figures: ReadonlyMap<string, LiteralFigure>;
  readonly problems: readonly Problem[];
  readonly entry: Entry | undefined;
}

const listReadings = new WeakMap<Thing, Map<string, ListReading>>();

/** Read once: each of its items asks for all of it. */
export function listOf(thing: Thing, field: FieldDefinition): ListReading {
  const kept = madeOnce(listReadings, thing, () => new Map<string, ListReading>());
  const entry = thing.entries.get(field.name);
  const before = kept.get(field.name);
  if (before?.field === field && before.entry === entry) return before;
  const reading = readList(thing, field, entry);
  kept.set(field.name, reading);
  return reading;
}

function readList(thing: Thing, field: FieldDefinition, entry: Entry | undefined): ListReading {
  const node = entry?.value ?? field.default;
  const items: Denotation<Location>[] = [];
  const figures = new Map<string, LiteralFigure>();
  const problems: Problem[] = [];
  if (field.type.form === "list" && node !== undefined) {
    const { of } = field.type;
    for (const [index, item] of (node.type === "list" ? node.items : [node]).entries()) {
      if (of.form !== "measure") {
        if (item.type === "text") items.push({ is: "word", value: item.value });
        else if (item.type === "path")
          items.push({ is: "word", value: item.names.map((name) => name.text).join(".") });
        continue;
      }
      const reading = readFigure(item, of.measure);
      if (reading.is === "problem") problems.push(reading.problem);
      if (reading.is === "formula" && item.type !== "missing")
        problems.push(notAFigure(item, of.measure));
      if (reading.is !== "figure") continue;
      const key = `${field.name}[${index + 1}]`;
      const reference = itemLocation(thing, field, key);
      if (reference === undefined) continue;
      figures.set(key, reading.figure);
      items.push({
        is: "quantity",
        reference,
        measure: of.measure,
        known: () => reading.figure.value,
      });
    }
  }
  return { field, items, figures, problems, entry };
}

/** What of a list others can see: how many there are, and each that is known. */
export function marksOf(items: readonly Denotation<Location>[]): string {
  return items
    .map((item) =>
      item.is === "word" ? `"${item.value}"` : item.is === "quantity" ? item.known?.() : "",
    )
    .join(" ");
}

function notAFigure(item: syntax.Expression, measure: Measure): Problem {
  return { is: "value/not-a-number in-list", measure, span: item.span };
}
