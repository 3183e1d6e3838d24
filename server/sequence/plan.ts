/**
 * Joints and steps as the build has them, ready to be put in order.
 *
 *     const plan = readPlan(build)   →   plan.steps, plan.joints
 *
 * Must not know: order rules, records, how anything is worded.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Value } from "../analysis/analysis";
import { Alike } from "../keep/alike";
import type { Thing } from "../model/thing";
import { counts } from "./counts";
import { figureOf, wordOf } from "./fields";
import { type Joint, readJoint } from "./joint";
import { type NamedItem, PlanNames } from "./names";
import { type NotedBuild, sameItems } from "./noted-build";
import { isSame } from "./same";
import { filledIn, placeOfThing, titleOf } from "./step-texts";
import { kinds, machineFields, stepFields, words } from "./vocabulary";

export type { Joint } from "./joint";

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
}

export interface Plan {
  /** All steps, those left out too, by their index. */
  readonly steps: readonly Step[];
  /** The steps this build does. */
  readonly live: readonly Step[];
  readonly joints: readonly Joint[];
  /** How many of each machine the build has, by its title. */
  readonly machines: ReadonlyMap<string, number>;
  readonly stepOf: ReadonlyMap<Thing, Step>;
  readonly jointOf: ReadonlyMap<Thing, Joint>;
  readonly names: PlanNames;
  /** The same object as long as its steps and joints are the very same. */
  readonly key: object;
}

export function isStep(thing: Thing): boolean {
  return thing.is(kinds.step);
}

/** A step or joint of which nothing changed is the very same, for whoever rests on it. */
const keptSteps = new Alike<Thing, Step>(2);
const keptJoints = new Alike<Thing, Joint>(2);

export function readPlan(build: NotedBuild): Plan {
  const names = new PlanNames(build);
  const joints = build
    .each(kinds.joint)
    .filter((thing) => thing.written && thing.anchor !== undefined)
    .flatMap((thing) => {
      const made = readJoint(build, names, thing);
      if (made === undefined) return [];
      const joint = keptJoints.same(thing, made, isSame);
      if (joint === made) counts.joints++;
      return [joint];
    });
  const jointOf = new Map(joints.map((joint) => [joint.thing, joint]));
  const things = build
    .each(kinds.step)
    .filter((thing) => !thing.implied && placeOfThing(thing) !== undefined);
  const { within, inside, after, spoken } = readNesting(names, things);
  const indexOf = new Map(things.map((thing, index) => [thing, index]));
  const machines = new Map(
    build
      .each(kinds.machine)
      .filter(({ implied }) => !implied)
      .map((thing) => [titleOf(thing), figureOf(build, thing, machineFields.count) ?? 1]),
  );
  const jointsIn = (thing: Thing, field: string): Joint[] =>
    names.listed(thing, field).flatMap((each) => jointOf.get(each) ?? []);
  const steps = things.map((thing, index): Step => {
    const chain = [index, ...ancestorsOf(index, within)];
    const on = chain
      .map((at) => names.items(things[at]!, stepFields.on))
      .find((items) => items.length > 0);
    const hold = wordOf(thing, stepFields.hold);
    const unfilled: string[] = [];
    const filled = (text: string): string => filledIn(build, thing, text, unfilled);
    const said = (field: string): string | undefined => {
      const text = wordOf(thing, field);
      return text === undefined ? undefined : filled(text);
    };
    const made: Step = {
      index,
      thing,
      path: thing.path,
      title: filled(titleOf(thing)),
      anchor: spoken(index) ?? placeOfThing(thing)!,
      work: wordOf(thing, stepFields.work),
      on: [...new Set((on ?? []).map(({ text, reached }) => reached?.thing.path ?? text))],
      inside: inside[index]!,
      within: within[index]!,
      after: [...new Set(chain.flatMap((at) => after[at]!))],
      ownAfter: after[index]!,
      tighten: jointsIn(thing, stepFields.tighten),
      tightenTo: figureOf(build, thing, stepFields.tightenTo) ?? 1,
      recheck: jointsIn(thing, stepFields.recheck),
      measure: names.items(thing, stepFields.measure),
      needs: names.items(thing, stepFields.needs),
      hold: hold === words.hold.none ? undefined : hold,
      holdTime: figureOf(build, thing, stepFields.holdTime),
      hands: figureOf(build, thing, stepFields.hands) ?? 1,
      otherThan: names
        .listed(thing, stepFields.otherThan)
        .flatMap((other) => indexOf.get(other) ?? []),
      signOff: wordOf(thing, stepFields.signOff),
      duration: figureOf(build, thing, stepFields.duration),
      parts: names.listed(thing, stepFields.parts),
      machines: names.items(thing, stepFields.machines).map(machineCalled),
      caution: said(stepFields.caution),
      note: said(stepFields.note),
      unfilled,
      leftOut: chain
        .map((at) => wordOf(things[at]!, stepFields.leftOut))
        .find((because) => because !== undefined),
    };
    const step = keptSteps.same(thing, made, isSame);
    if (step === made) counts.steps++;
    return step;
  });
  const plan = {
    machines,
    steps,
    live: steps.filter((step) => step.leftOut === undefined),
    joints,
    stepOf: new Map(steps.map((step) => [step.thing, step])),
    jointOf,
    names,
  };
  return { ...plan, key: keyOf(plan) };
}

interface Key {
  readonly steps: readonly Step[];
  readonly joints: readonly Joint[];
}

const keys = new Alike<object, Key>(2);

function keyOf({ names, steps, joints }: Omit<Plan, "key">): Key {
  return keys.same(
    names.key,
    { steps, joints },
    (one, other) => sameItems(one.steps, other.steps) && sameItems(one.joints, other.joints),
  );
}

/** The value a named figure has, where the name leads to a field. */
export function valueOf(build: NotedBuild, { reached }: NamedItem): Value | undefined {
  return reached?.field === undefined
    ? undefined
    : build.figureOf(reached.thing, reached.field.name);
}

// ───────────────────────────── helpers ─────────────────────────────

/** One of the build by its title, whether its name or its title is written; others as written. */
function machineCalled({ text, reached }: NamedItem): string {
  return reached !== undefined && reached.field === undefined && reached.thing.is(kinds.machine)
    ? titleOf(reached.thing)
    : text;
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
      within[index]!.push(owner);
      inside[owner]!.push(index);
    }
    for (const other of names.listed(thing, stepFields.after)) {
      const at = indexOf.get(other);
      if (at !== undefined) after[index]!.push(at);
    }
    let before: number | undefined;
    for (const chapter of names.items(thing, stepFields.chapters)) {
      const { reached } = chapter;
      if (reached === undefined || reached.field !== undefined) continue;
      const at = indexOf.get(reached.thing);
      if (at === undefined) continue;
      within[at]!.push(index);
      inside[index]!.push(at);
      named.set(at, chapter.anchor);
      if (before !== undefined) after[at]!.push(before);
      before = at;
    }
  }
  const spoken = (index: number): Anchor | undefined => {
    if (!things[index]!.library) return undefined;
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
  const queue = [...within[index]!];
  for (let at = queue.shift(); at !== undefined; at = queue.shift()) {
    if (at === index || seen.includes(at)) continue;
    seen.push(at);
    queue.push(...within[at]!);
  }
  return seen;
}
