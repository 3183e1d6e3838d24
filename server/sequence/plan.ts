/**
 * Joints and steps as the build has them, ready to be put in order.
 *
 *     const plan = readPlan(analysis)   →   plan.steps, plan.joints
 *
 * Must not know: order rules, records, how anything is worded.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Analysis, CheckResult, Value } from "../analysis/analysis";
import { Alike } from "../keep/alike";
import type { Thing } from "../model/thing";
import { counts } from "./counts";
import { figureOf, figuresOf, isYes, wordOf } from "./fields";
import { type NamedItem, PlanNames } from "./names";
import { type Pass, passesOf } from "./passes";
import { isSame } from "./same";
import {
  type FastenerLayout,
  type FastenerPoint,
  groupedOrder,
  type Pattern,
} from "./tightening-order";
import { instrumentFields, jointFields, kinds, stepFields, words } from "./vocabulary";

export interface Joint extends FastenerLayout {
  readonly thing: Thing;
  readonly path: string;
  readonly title: string;
  readonly anchor: Anchor;
  /** In N·m; open where missing. */
  readonly torque?: number;
  /** What the nut is to feel, running torque included, in N·m. */
  readonly applied?: number;
  /** What to set the wrench to at full torque, in N·m. */
  readonly setting?: number;
  /** An adapter stands between wrench and fastener. */
  readonly adapter: boolean;
  readonly passes: readonly Pass[];
  /** Shares as written or by default, before any closing pass. */
  readonly shares: readonly number[];
  readonly passesAnchor?: Anchor;
  /** Fasteners of each group in the order they are tightened. */
  readonly order: readonly (readonly number[])[];
  /** A way round the builder wrote. */
  readonly written?: { readonly order: readonly number[]; readonly anchor: Anchor };
  readonly wrench?: Thing;
  /** What the wrench is to be used from and to, in N·m. */
  readonly wrenchRange?: { readonly least: number; readonly most: number };
  readonly adjustable: boolean;
  /** Whether its fasteners are replaced each time it is undone. */
  readonly singleUse: boolean;
  /** In rad: how far each fastener is turned on after the last torque. */
  readonly turn?: number;
  /** In seconds: how long its thread lock cures. */
  readonly cure?: number;
  /** In meters; set where it is to be checked again. */
  readonly recheckAfter?: number;
  readonly after: readonly Thing[];
}

export interface Step {
  /** Place in `plan.steps`, which is the order of writing. */
  readonly index: number;
  readonly thing: Thing;
  readonly path: string;
  readonly title: string;
  /** Where to speak about it: in the build even where the step is the library's. */
  readonly anchor: Anchor;
  readonly work?: string;
  /** What it is done to, by path; empty for the whole vehicle. */
  readonly on: readonly string[];
  /** Steps and chapters inside it; a step that has some is done when they are. */
  readonly inside: readonly number[];
  /** The procedures and steps it belongs to. */
  readonly within: readonly number[];
  /** What it comes after as written, its own and that of what it belongs to. */
  readonly after: readonly number[];
  /** What it itself is written to come after, not what it belongs to. */
  readonly ownAfter: readonly number[];
  readonly tighten: readonly Joint[];
  readonly tightenTo: number;
  readonly recheck: readonly Joint[];
  readonly measure: readonly NamedItem[];
  readonly needs: readonly NamedItem[];
  readonly hold?: string;
  /** In seconds. */
  readonly holdTime?: number;
  readonly hands: number;
  /** Steps whose doer may not do this one. */
  readonly otherThan: readonly number[];
  /** Who looks at it and signs before anything goes on. */
  readonly signOff?: string;
  /** In seconds of work. */
  readonly duration?: number;
  readonly machines: readonly string[];
  /** What has to be at hand. */
  readonly parts: readonly Thing[];
  readonly caution?: string;
  readonly note?: string;
  /** Paths in braces in its texts that lead to no figure. */
  readonly unfilled: readonly string[];
  /** Why this build does without it, or without what it lies in. */
  readonly leftOut?: string;
  /** Claims written inside the step: values that have to lie within limits. */
  readonly checks: readonly CheckResult[];
}

export interface Plan {
  /** All steps, those left out too, by their index. */
  readonly steps: readonly Step[];
  /** The steps this build does. */
  readonly live: readonly Step[];
  readonly joints: readonly Joint[];
  readonly stepOf: ReadonlyMap<Thing, Step>;
  readonly jointOf: ReadonlyMap<Thing, Joint>;
  readonly names: PlanNames;
  /** The same object as long as its steps and joints and all things are the very same. */
  readonly key: object;
}

/** A step or joint of which nothing changed is the very same, for whoever rests on it. */
const keptSteps = new Alike<Thing, Step>(2);
const keptJoints = new Alike<Thing, Joint>(2);

export function readPlan(analysis: Analysis): Plan {
  const names = new PlanNames(analysis);
  const joints = analysis.things
    .filter((thing) => thing.is(kinds.joint) && thing.written && thing.anchor !== undefined)
    .flatMap((thing) => {
      const made = readJoint(analysis, names, thing);
      if (made === undefined) return [];
      const joint = keptJoints.same(thing, made, isSame);
      if (joint === made) counts.joints++;
      return [joint];
    });
  const jointOf = new Map(joints.map((joint) => [joint.thing, joint]));
  const things = analysis.things.filter(
    (thing) => thing.is(kinds.step) && !thing.implied && anchorOf(thing) !== undefined,
  );
  const { within, inside, after, spoken } = readNesting(names, things);
  const checks = new Map<string, CheckResult[]>();
  for (const check of analysis.checks) {
    if (check.thing?.is(kinds.step) !== true) continue;
    const list = checks.get(check.thing.path) ?? [];
    checks.set(check.thing.path, list);
    list.push(check);
  }
  const indexOf = new Map(things.map((thing, index) => [thing, index]));
  const jointsIn = (thing: Thing, field: string): Joint[] =>
    names.listed(thing, field).flatMap((each) => jointOf.get(each) ?? []);
  const steps = things.map((thing, index): Step => {
    const chain = [index, ...ancestorsOf(index, within)];
    const on = chain
      .map((at) => things[at])
      .map((at) => (at === undefined ? [] : names.items(at, stepFields.on)))
      .find((items) => items.length > 0);
    const hold = wordOf(thing, stepFields.hold);
    const unfilled: string[] = [];
    const filled = (text: string): string => filledIn(analysis, thing, text, unfilled);
    const said = (field: string): string | undefined => {
      const text = wordOf(thing, field);
      return text === undefined ? undefined : filled(text);
    };
    const made: Step = {
      index,
      thing,
      path: thing.path,
      title: filled(titleOf(thing)),
      anchor: spoken(index) ?? anchorOf(thing)!,
      work: wordOf(thing, stepFields.work),
      on: [...new Set((on ?? []).map(({ text, reached }) => reached?.thing.path ?? text))],
      inside: inside[index] ?? [],
      within: within[index] ?? [],
      after: [...new Set(chain.flatMap((at) => after[at] ?? []))],
      ownAfter: after[index] ?? [],
      tighten: jointsIn(thing, stepFields.tighten),
      tightenTo: figureOf(analysis, thing, stepFields.tightenTo) ?? 1,
      recheck: jointsIn(thing, stepFields.recheck),
      measure: names.items(thing, stepFields.measure),
      needs: names.items(thing, stepFields.needs),
      hold: hold === words.hold.none ? undefined : hold,
      holdTime: figureOf(analysis, thing, stepFields.holdTime),
      hands: figureOf(analysis, thing, stepFields.hands) ?? 1,
      otherThan: names
        .listed(thing, stepFields.otherThan)
        .flatMap((other) => indexOf.get(other) ?? []),
      signOff: wordOf(thing, stepFields.signOff),
      duration: figureOf(analysis, thing, stepFields.duration),
      parts: names.listed(thing, stepFields.parts),
      machines: names.items(thing, stepFields.machines).map(({ text }) => text),
      caution: said(stepFields.caution),
      note: said(stepFields.note),
      unfilled,
      leftOut: chain
        .map((at) => things[at])
        .flatMap((at) => (at === undefined ? [] : (wordOf(at, stepFields.leftOut) ?? [])))[0],
      checks: checks.get(thing.path) ?? [],
    };
    const step = keptSteps.same(thing, made, isSame);
    if (step === made) counts.steps++;
    return step;
  });
  const plan = {
    steps,
    live: steps.filter((step) => step.leftOut === undefined),
    joints,
    stepOf: new Map(steps.map((step) => [step.thing, step])),
    jointOf,
    names,
  };
  return { ...plan, key: keyOf(plan, analysis.things) };
}

interface Key {
  readonly steps: readonly Step[];
  readonly joints: readonly Joint[];
  readonly things: readonly Thing[];
}

const keys = new Alike<object, Key>(2);

function keyOf({ names, steps, joints }: Omit<Plan, "key">, things: readonly Thing[]): Key {
  const alike = <T>(one: readonly T[], other: readonly T[]): boolean =>
    one.length === other.length && one.every((each, at) => each === other[at]);
  return keys.same(
    names.key,
    { steps, joints, things },
    (one, other) =>
      alike(one.steps, other.steps) &&
      alike(one.joints, other.joints) &&
      alike(one.things, other.things),
  );
}

/**
 * `burn at {rear.left.tape_reading}`: figures stand for the paths in braces, as the build writes them.
 * `{each corner.tape_reading}` stands for that of each thing of a kind, so that the library can speak of
 * what it does not know the names of; where nothing is known of it what stands between two `;` is left out.
 */
function filledIn(analysis: Analysis, thing: Thing, text: string, missing: string[]): string {
  if (!text.includes("{")) return text;
  const clauses = text.split("; ").flatMap((clause) => {
    let isOpen = false;
    const filled = clause.replaceAll(inBraces, (whole, each: string | undefined, path: string) => {
      if (each === undefined) {
        const value = analysis.valueAt(path) ?? analysis.valueAt(`${thing.path}.${path}`);
        if (value === undefined) missing.push(path);
        return value === undefined ? whole : analysis.write(value);
      }
      const figures = ofEach(analysis, path);
      if (figures === undefined) missing.push(path);
      isOpen ||= figures?.length === 0;
      return figures?.join(", ") ?? whole;
    });
    return isOpen ? [] : [filled];
  });
  return clauses.join("; ");
}

const inBraces = /\{(each )?([A-Za-z_]\w*(?:\.\w+)*)\}/g;

/** The known figures of all things of a kind, with their names where there are several; `undefined` for no such field. */
function ofEach(analysis: Analysis, path: string): string[] | undefined {
  const [kindName = "", fieldName = ""] = path.split(".");
  const field = analysis.vocabulary.kinds.get(kindName)?.fields.get(fieldName);
  if (field === undefined || path.split(".").length !== 2) return undefined;
  const known = analysis.things.flatMap((each) => {
    const value = each.is(kindName) ? analysis.valueAt(`${each.path}.${fieldName}`) : undefined;
    return value?.si === undefined ? [] : [{ path: each.path, text: analysis.write(value) }];
  });
  return known.map((each) => (known.length === 1 ? each.text : `${each.path} ${each.text}`));
}

/** The value a named figure has, where the name leads to a field. */
export function valueOf(analysis: Analysis, { reached }: NamedItem): Value | undefined {
  return reached?.field === undefined
    ? undefined
    : analysis.figureOf(reached.thing, reached.field.name);
}

export function titleOf(thing: Thing): string {
  return thing.title ?? thing.name.replaceAll("_", " ");
}

// ───────────────────────────── helpers ─────────────────────────────

function readJoint(analysis: Analysis, names: PlanNames, thing: Thing): Joint | undefined {
  const place = anchorOf(thing);
  if (place === undefined) return undefined;
  const figure = (field: string): number | undefined => figureOf(analysis, thing, field);
  const wrench = names.linked(thing, jointFields.wrench);
  const least =
    wrench === undefined ? undefined : figureOf(analysis, wrench, instrumentFields.least);
  const most = wrench === undefined ? undefined : figureOf(analysis, wrench, instrumentFields.most);
  const count = figure(jointFields.count) ?? 1;
  const groups = figure(jointFields.groups) ?? 1;
  const pattern = patternOf(wordOf(thing, jointFields.pattern));
  const places = placesIn(thing);
  const layout: FastenerLayout = {
    count,
    groups,
    pattern,
    columns: figure(jointFields.columns),
    ...(places === undefined ? {} : { places }),
  };
  const torque = figure(jointFields.torque);
  const { shares, anchor } = sharesOf(thing, count, torque);
  const turn = figure(jointFields.turn);
  // A round at full torque after the turn would turn them further.
  const closing =
    turn === undefined &&
    count >= 4 &&
    pattern !== "line" &&
    isYes(thing, jointFields.circularPass);
  const sequence = figuresOf(thing, jointFields.sequence);
  const written =
    sequence.figures.length > 0 && sequence.anchor !== undefined
      ? { order: sequence.figures, anchor: sequence.anchor }
      : undefined;
  return {
    thing,
    path: thing.path,
    title: titleOf(thing),
    anchor: place,
    ...layout,
    torque,
    applied: figure(jointFields.appliedTorque) ?? torque,
    setting: figure(jointFields.wrenchSetting),
    adapter: thing.entries.has(jointFields.extension),
    passes: passesOf(shares, torque, closing, turn),
    shares,
    passesAnchor: anchor,
    order: written === undefined ? groupedOrder(layout) : [written.order],
    written,
    wrench,
    wrenchRange: least === undefined || most === undefined ? undefined : { least, most },
    adjustable: isYes(thing, jointFields.adjustable),
    singleUse: isYes(thing, jointFields.singleUse),
    turn,
    cure: figure(jointFields.cure),
    recheckAfter: figure(jointFields.recheckAfter),
    after: names.listed(thing, jointFields.after),
  };
}

/** A single fastener goes to its torque in one go unless the builder wrote otherwise. */
function sharesOf(
  thing: Thing,
  count: number,
  torque: number | undefined,
): { readonly shares: readonly number[]; readonly anchor?: Anchor } {
  const torques = figuresOf(thing, jointFields.passTorques);
  if (torques.figures.length > 0 && torque !== undefined && torque > 0) {
    return { shares: torques.figures.map((each) => each / torque), anchor: torques.anchor };
  }
  const passes = figuresOf(thing, jointFields.passes);
  if (passes.written) return { shares: passes.figures, anchor: passes.anchor };
  return { shares: count > 1 ? passes.figures : [1] };
}

function patternOf(word: string | undefined): Pattern {
  return Object.values(words.pattern).find((each) => each === word) ?? words.pattern.cross;
}

/** In meters; as many as both lists hold. */
function placesIn(thing: Thing): readonly FastenerPoint[] | undefined {
  const { figures: across } = figuresOf(thing, jointFields.placesX);
  const { figures: up } = figuresOf(thing, jointFields.placesY);
  const count = Math.min(across.length, up.length);
  if (count === 0) return undefined;
  return across.slice(0, count).map((x, index) => ({ x, y: up[index] ?? 0 }));
}

interface Nesting {
  readonly within: readonly (readonly number[])[];
  readonly inside: readonly (readonly number[])[];
  readonly after: readonly (readonly number[])[];
  /** Where the build itself names a step of the library. */
  spoken(index: number): Anchor | undefined;
}

function readNesting(names: PlanNames, things: readonly Thing[]): Nesting {
  const indexOf = new Map(things.map((thing, index) => [thing, index]));
  const within: number[][] = things.map(() => []);
  const inside: number[][] = things.map(() => []);
  const after: number[][] = things.map(() => []);
  const named = new Map<number, Anchor>();
  for (const [index, thing] of things.entries()) {
    const owner = thing.owner === undefined ? undefined : indexOf.get(thing.owner);
    if (owner !== undefined) {
      within[index]?.push(owner);
      inside[owner]?.push(index);
    }
    for (const other of names.listed(thing, stepFields.after)) {
      const at = indexOf.get(other);
      if (at !== undefined) after[index]?.push(at);
    }
    let before: number | undefined;
    for (const chapter of names.items(thing, stepFields.chapters)) {
      const at = chapter.reached === undefined ? undefined : indexOf.get(chapter.reached.thing);
      if (at === undefined || chapter.reached?.field !== undefined) continue;
      within[at]?.push(index);
      inside[index]?.push(at);
      named.set(at, chapter.anchor);
      if (before !== undefined) after[at]?.push(before);
      before = at;
    }
  }
  const spoken = (index: number): Anchor | undefined => {
    const thing = things[index];
    if (thing?.library !== true) return undefined;
    for (const at of [index, ...ancestorsOf(index, within)]) {
      const anchor = named.get(at);
      if (anchor !== undefined) return anchor;
    }
    return undefined;
  };
  return { within, inside, after, spoken };
}

function ancestorsOf(index: number, within: readonly (readonly number[])[]): number[] {
  const seen: number[] = [];
  const queue = [...(within[index] ?? [])];
  for (let at = queue.shift(); at !== undefined; at = queue.shift()) {
    if (at === index || seen.includes(at)) continue;
    seen.push(at);
    queue.push(...(within[at] ?? []));
  }
  return seen;
}

function anchorOf(thing: Thing): Anchor | undefined {
  for (let at: Thing | undefined = thing; at !== undefined; at = at.owner) {
    if (at.anchor !== undefined) return at.anchor;
  }
  return undefined;
}
