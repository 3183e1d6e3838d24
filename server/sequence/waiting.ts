/**
 * What waits for what, and why: as written, because a step lies inside another, by an order rule,
 * because of a joint.
 *
 *     const waiting = waitingOf(plan, orders)   →   waiting.graph, waiting.why(before, after)
 *
 * A rule never makes a loop: where the plan as written says the opposite, the rule is broken, and
 * that is said. Must not know: records, how anything is worded.
 */

import type * as syntax from "../../grammar/syntax";
import type { Because } from "../findings/work-phrases";
import { Lists } from "../keep/lists";
import { goOn } from "../keep/patience";
import type { OrderDefinition } from "../model/definition";
import { Graph } from "./graph";
import type { Joint, Plan, Step } from "./plan";

export type Why =
  | { readonly is: "written" }
  | { readonly is: "inside" }
  | { readonly is: "rule"; readonly rule: OrderDefinition }
  /** The joint clamps what the first step makes final. */
  | { readonly is: "final"; readonly joint: Joint }
  /** The joint goes from a lower share of its torque to a higher. */
  | { readonly is: "climb"; readonly joint: Joint }
  | { readonly is: "recheck"; readonly joint: Joint };

/** The same as findings tell it. */
export function becauseOf(why: Why): Because {
  switch (why.is) {
    case "rule":
      return { is: "rule", title: why.rule.title, because: why.rule.remarks.because };
    case "written":
    case "inside":
      return { is: why.is };
    default:
      return { is: why.is, joint: why.joint.path };
  }
}

/** The plan as written has `after` before `before`. */
export interface BrokenOrder {
  readonly before: Step;
  readonly after: Step;
  readonly why: Why;
  /** The way by which the plan says the opposite: from `after` to `before`. */
  readonly way: readonly Step[];
}

/** Nothing does the first where a rule needs it for the second. */
export interface LackingStep {
  readonly rule: OrderDefinition;
  /** The steps that need it. */
  readonly steps: readonly Step[];
  /** What the rule asks for, in its own words. */
  readonly needs: string;
}

export interface Waiting {
  readonly graph: Graph;
  /** Loops of the plan as written, each in order. */
  readonly loops: readonly (readonly Step[])[];
  /** Steps that wait for a loop. */
  readonly stuck: ReadonlySet<Step>;
  readonly broken: readonly BrokenOrder[];
  readonly lacking: readonly LackingStep[];
  /**
   * The reason for which `after` is open again when `before` is done again (`last`), or for which it
   * wants `before` done anew each time (`every`).
   */
  repeats(before: Step, after: Step, repetition: "last" | "every", joint?: Joint): Why | undefined;
  /** The best reason there is: one that says why, then one that is about `joint`. */
  why(before: Step, after: Step, joint?: Joint): Why;
  /** Those of `steps` that none of the others waits for: the nearest of what has to come first. */
  nearest(steps: readonly Step[]): readonly Step[];
}

/** More edges than any plan needs; beyond it rules are still checked, but no longer sorted by. */
const mostRuleEdges = 50_000;

export function waitingOf(plan: Plan, orders: readonly OrderDefinition[]): Waiting {
  const builder = new Builder(plan);
  builder.written();
  builder.joints();
  for (const rule of orders) builder.rule(rule);
  const { loops, stuck } = builder.knots();
  return {
    graph: builder.graph,
    loops,
    stuck,
    broken: builder.broken,
    lacking: builder.lacking,
    why: (before, after, joint) => builder.why(before, after, joint),
    repeats: (before, after, repetition, joint) =>
      builder.repeats(before, after, repetition, joint),
    nearest: (steps) => {
      const behind = new Set(steps.flatMap((step) => [...builder.graph.ancestors(step.index)]));
      return steps.filter((step) => !behind.has(step.index));
    },
  };
}

/** Whether two steps have to do with one another: one thing in common, or one that names none. */
export function sameSubject(one: Step, other: Step): boolean {
  goOn();
  if (one.on.length === 0 || other.on.length === 0) return true;
  return one.on.some((name) => other.on.includes(name));
}

class Builder {
  readonly graph: Graph;
  readonly broken: BrokenOrder[] = [];
  readonly lacking: LackingStep[] = [];
  private readonly reasons = new Lists<string, Why>();
  private ruleEdges = 0;

  constructor(private readonly plan: Plan) {
    this.graph = new Graph(plan.steps.length);
  }

  written(): void {
    for (const step of this.plan.live) {
      for (const before of this.after(step)) this.add(before, step.index, { is: "written" });
      for (const child of step.inside) {
        if (this.isLive(child)) this.add(child, step.index, { is: "inside" });
      }
    }
  }

  /** In place of a step that is left out stands what that one comes after. */
  private after(step: Step): readonly number[] {
    if (step.after.every((index) => this.isLive(index))) return step.after;
    const found = new Set<number>();
    const seen = new Set<number>();
    const queue = [...step.after];
    for (let index = queue.shift(); index !== undefined; index = queue.shift()) {
      if (seen.has(index)) continue;
      seen.add(index);
      if (this.isLive(index)) found.add(index);
      else queue.push(...this.plan.steps[index]!.after);
    }
    return [...found];
  }

  private isLive(index: number): boolean {
    return this.plan.steps[index]!.leftOut === undefined;
  }

  knots(): Pick<Waiting, "loops" | "stuck"> {
    const { steps } = this.plan;
    const stepsOf = (indices: Iterable<number>): Step[] =>
      [...indices].map((index) => steps[index]!);
    const loops = this.graph.loops().map(stepsOf);
    const looped = new Set(loops.flat());
    const stuck = stepsOf(this.graph.stuck()).filter((step) => !looped.has(step));
    return { loops, stuck: new Set(stuck) };
  }

  /** Last torque after what is clamped is final; rising shares; re-checks after tightening. */
  joints(): void {
    const { live, joints, stepOf } = this.plan;
    for (const joint of joints) {
      const tightening = live.filter((step) => step.tighten.includes(joint));
      const last = Math.max(0, ...tightening.map((step) => step.tightenTo));
      for (const step of tightening) {
        if (step.tightenTo < last) continue;
        for (const thing of joint.after) {
          const before = stepOf.get(thing);
          if (before?.leftOut === undefined && before !== undefined)
            this.demand(before, step, { is: "final", joint });
        }
        for (const other of tightening) {
          if (other.tightenTo < step.tightenTo) this.demand(other, step, { is: "climb", joint });
        }
        for (const check of live) {
          if (check.recheck.includes(joint)) this.demand(step, check, { is: "recheck", joint });
        }
      }
    }
  }

  rule(rule: OrderDefinition): void {
    const before = this.meant(rule.node.before, rule);
    const after = this.meant(rule.node.after, rule);
    const needs = clauseOf(rule.node, "needs");
    if (needs !== undefined) {
      const steps = after.filter((step) => !before.some((each) => sameSubject(each, step)));
      if (steps.length > 0) this.lacking.push({ rule, steps, needs });
    }
    if (before.length === 0) return;
    const ancestors = new Map(before.map((first) => [first, this.graph.ancestors(first.index)]));
    const isAfter = (first: Step, second: Step): boolean =>
      ancestors.get(first)?.has(second.index) === true;
    for (const second of after) {
      const firsts = before.filter(
        (first) => first !== second && !nested(first, second) && sameSubject(first, second),
      );
      const earlier = firsts.filter((first) => !isAfter(first, second));
      for (const first of earlier) this.wait(first, second, { is: "rule", rule });
      for (const first of firsts) {
        if (isAfter(first, second) && !this.isRepeated(first, second, earlier, after, rule))
          this.breaks(first, second, { is: "rule", rule });
      }
    }
  }

  /**
   * Work that is planned again after what it comes before is no mistake where it was done before
   * that too; where the rule is about its last doing, what stands on it has to follow once more.
   */
  private isRepeated(
    first: Step,
    second: Step,
    earlier: readonly Step[],
    after: readonly Step[],
    rule: OrderDefinition,
  ): boolean {
    if (earlier.length === 0) return false;
    if (rule.node.repetition !== "last") return true;
    const follows = this.graph.descendants(first.index);
    return after.some(
      (other) => other !== second && sameSubject(first, other) && follows.has(other.index),
    );
  }

  /** Of a joint's own reasons only those of `joint`, where one is asked about. */
  repeats(before: Step, after: Step, repetition: "last" | "every", joint?: Joint): Why | undefined {
    const reasons = this.reasons.of(`${before.index} ${after.index}`);
    return reasons.find((why) => {
      if (why.is === "rule") return why.rule.node.repetition === repetition;
      const own = joint === undefined || !("joint" in why) || why.joint === joint;
      return own && repetition === "last" && ["final", "climb", "recheck"].includes(why.is);
    });
  }

  why(before: Step, after: Step, joint?: Joint): Why {
    const reasons = this.reasons.of(`${before.index} ${after.index}`);
    const ranked = reasons.filter(
      (why) => joint === undefined || !("joint" in why) || why.joint === joint,
    );
    const best = [...(ranked.length === 0 ? reasons : ranked)].sort(
      (one, other) => rank(one) - rank(other),
    )[0];
    return best ?? { is: "written" };
  }

  // ── helpers ──

  /** The steps an expression of a rule denotes: a kind of work, a step by name, several of them. */
  private meant(node: syntax.Expression, rule: OrderDefinition): Step[] {
    const { live, names, stepOf } = this.plan;
    switch (node.type) {
      case "group":
        return this.meant(node.inner, rule);
      case "list":
        return [...new Set(node.items.flatMap((item) => this.meant(item, rule)))];
      case "binary":
        if (node.operator !== "or" && node.operator !== "and") return [];
        return [...new Set([...this.meant(node.left, rule), ...this.meant(node.right, rule)])];
      case "text":
        return live.filter((step) => step.work === node.value);
      case "path": {
        const [first] = node.names;
        const byWork = live.filter((step) => node.names.length === 1 && step.work === first?.text);
        if (byWork.length > 0) return byWork;
        const reached = names.resolve(undefined, rule.anchor.uri, node.names);
        const found = reached?.field === undefined ? reached?.thing : undefined;
        const step = found === undefined ? undefined : stepOf.get(found);
        return step === undefined || step.leftOut !== undefined ? [] : [step];
      }
      default:
        return [];
    }
  }

  private demand(before: Step, after: Step, why: Why): void {
    if (before === after || nested(before, after)) return;
    if (this.graph.ancestors(before.index).has(after.index)) this.breaks(before, after, why);
    else this.wait(before, after, why);
  }

  private wait(before: Step, after: Step, why: Why): void {
    if (this.ruleEdges >= mostRuleEdges) return;
    this.ruleEdges++;
    this.add(before.index, after.index, why);
  }

  private breaks(before: Step, after: Step, why: Why): void {
    // Steps in a loop come after themselves; the loop is what is wrong with them.
    if (this.graph.ancestors(before.index).has(before.index)) return;
    const way = this.graph.path(after.index, before.index)!;
    this.broken.push({
      before,
      after,
      why,
      way: way.map((index) => this.plan.steps[index]!),
    });
  }

  private add(before: number, after: number, why: Why): void {
    goOn();
    this.reasons.add(`${before} ${after}`, why);
    this.graph.add(before, after);
  }
}

function rank({ is }: Why): number {
  return ["rule", "final", "climb", "recheck", "inside", "written"].indexOf(is);
}

function nested(one: Step, other: Step): boolean {
  return one.within.includes(other.index) || other.within.includes(one.index);
}

function clauseOf(node: syntax.Order, word: string): string | undefined {
  const clause = node.clauses.find((each) => each.word.text === word);
  return clause?.value.type === "text" ? clause.value.value : undefined;
}
