/**
 * One bolted joint as the build has it: its fasteners and where they stand, its passes, the way round,
 * the wrench.
 *
 *     readJoint(build, names, thing)?.passes   →   30, 70, 100 %, then once round
 *
 * Must not know: steps, records, how anything is worded.
 */
import type { Anchor } from "../../grammar/anchor";
import type { Thing } from "../model/thing";
import { isAbove } from "./close";
import { figureOf, figuresOf, isYes, wordOf } from "./fields";
import type { PlanNames } from "./names";
import type { NotedBuild } from "./noted-build";
import { type Pass, passesOf } from "./passes";
import { placeOfThing, titleOf } from "./step-texts";
import {
  type FastenerLayout,
  type FastenerPoint,
  groupedOrder,
  type Pattern,
} from "./tightening-order";
import { instrumentFields, jointFields, words } from "./vocabulary";

export interface Joint extends FastenerLayout {
  readonly thing: Thing;
  readonly path: string;
  readonly title: string;
  readonly anchor: Anchor;
  /** In N·m; open where missing. */
  readonly torque?: number;
  /** What it takes to turn a locking nut before it seats, as planned, in N·m; 0 for all others. */
  readonly running: number;
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

export function readJoint(build: NotedBuild, names: PlanNames, thing: Thing): Joint | undefined {
  const place = placeOfThing(thing);
  if (place === undefined) return undefined;
  const figure = (field: string): number | undefined => figureOf(build, thing, field);
  const wrench = names.linked(thing, jointFields.wrench);
  const least = wrench === undefined ? undefined : figureOf(build, wrench, instrumentFields.least);
  const most = wrench === undefined ? undefined : figureOf(build, wrench, instrumentFields.most);
  const count = figure(jointFields.count) ?? 1;
  const groups = figure(jointFields.groups) ?? 1;
  const pattern = patternOf(wordOf(thing, jointFields.pattern));
  const places = placesIn(thing);
  const layout: FastenerLayout = {
    count,
    groups,
    pattern,
    columns: figure(jointFields.columns),
    places,
  };
  const torque = figure(jointFields.torque);
  const applied = figure(jointFields.appliedTorque) ?? torque;
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
    applied,
    running:
      applied !== undefined && torque !== undefined && isAbove(applied, torque)
        ? applied - torque
        : 0,
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

// ───────────────────────────── helpers ─────────────────────────────

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
