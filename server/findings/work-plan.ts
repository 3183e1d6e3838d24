/**
 * What is wrong with the order of work as planned: loops, broken rules, joints nobody tightens, passes
 * that do not climb, orders that go from neighbor to neighbor.
 *
 * Must not know: records, how a plan is put in order.
 */
import type { Anchor } from "../../grammar/anchor";
import { andList, written } from "./phrases";
import type { Family, Said } from "./said";
import {
  type Because,
  betterOrder,
  here,
  named,
  pairsInWords,
  percent,
  reasonInWords,
  type Titled,
} from "./work-phrases";

/** A step by its path, where it is planned too early. */
interface Broken {
  readonly before: string;
  readonly after: string;
  readonly why: Because;
  /** The steps between, by which the plan says the opposite. */
  readonly way: readonly string[];
  /** Nobody says what one of them is done to. */
  readonly onOpen: boolean;
  readonly there: Titled;
  readonly rule?: Anchor;
}

/** An order in which the fasteners of a joint are tightened, and a better one. */
interface Order {
  readonly joint: string;
  readonly better: readonly number[];
}

export const planFamily = {
  "step/loop": ({
    loop,
    behind,
    others,
  }: {
    /** Paths of the steps, in order. */
    readonly loop: readonly string[];
    /** Paths of those that wait for them. */
    readonly behind: readonly string[];
    readonly others: readonly Titled[];
  }) => {
    const names = loop.map(named);
    const round = [...names, names[0] ?? ""];
    const what =
      loop.length === 1
        ? `${names[0]} waits for itself`
        : `these steps wait for each other and none can start: ${round.join(" before ")}`;
    const more = behind.length > mostNamed ? ` and ${behind.length - mostNamed} more` : "";
    const shown = behind.slice(0, mostNamed).map(named);
    const all = more === "" ? andList(shown) : shown.join(", ");
    return {
      message:
        shown.length === 0
          ? what
          : `${what}; ${all}${more} ${behind.length === 1 ? "waits" : "wait"} behind ${loop.length === 1 ? "it" : "them"}`,
      hint: "take one of them out of the other's `after`",
      related: others.map(here),
    };
  },
  "order/broken": (facts: Broken) => broken(facts),
  "joint/before-final": (facts: Broken) => broken(facts),
  "joint/order": (facts: Broken) => broken(facts),
  "order/missing-step": ({
    steps,
    rule,
    needs,
    on,
    ruleAt,
    others,
  }: {
    readonly steps: readonly string[];
    readonly rule: Extract<Because, { is: "rule" }>;
    /** What the rule asks for, in its own words. */
    readonly needs: string;
    readonly on: readonly string[];
    readonly ruleAt: Anchor;
    readonly others: readonly Titled[];
  }) => ({
    severity: "warning",
    message: `nothing comes before ${andList(steps.map(named))} that ${steps.length === 1 ? "it needs" : "they need"}: ${reasonInWords(rule)}`,
    hint: `add ${needs}${on.length === 0 ? "" : `, \`on: ${on.length === 1 ? on[0] : `[${on.join(", ")}]`}\``}`,
    related: [
      { anchor: ruleAt, message: "the rule is here" },
      ...others.map(({ title, at }) => ({ anchor: at, message: `${title} needs it too` })),
    ],
  }),
  "step/no-figure": ({ step, path }: { readonly step: string; readonly path: string }) => ({
    severity: "warning",
    message: `a text of ${named(step)} speaks of \`${path}\`, which is no figure of this build`,
    hint: "write the path as the build calls it: {rear.left.tape_reading}",
  }),
  "joint/never-tightened": ({ joint }: { readonly joint: string }) => ({
    severity: "warning",
    message: `no step tightens ${named(joint)}`,
    hint: "name it in the `tighten` of the step that brings it to 100 %",
  }),
  "joint/not-full": ({
    joint,
    step,
    share,
  }: {
    readonly joint: string;
    readonly step: string;
    readonly share: number;
  }) => ({
    severity: "warning",
    message: `${named(joint)} is never brought to its whole torque: ${named(step)} ends at ${percent(share)}`,
    hint: "add a later step that tightens it to 100 %",
  }),
  "joint/no-torque": ({ joint, step }: { readonly joint: string; readonly step: string }) => ({
    severity: "warning",
    message: `${named(step)} tightens ${named(joint)}, whose torque is open`,
    hint: "write its `torque` from the maker of the part, or the wanted `proof_share` with thread and grade",
  }),
  "joint/adapter": ({ joint }: { readonly joint: string }) => ({
    severity: "warning",
    message: `${named(joint)} is tightened through an adapter, and what to set the wrench to is open`,
    hint: "name its `wrench` and write that wrench's `length`, square drive to the middle of the grip",
  }),
  "joint/no-recheck": ({
    joint,
    adjustable,
  }: {
    readonly joint: string;
    /** It clamps something that is set by moving it. */
    readonly adjustable: boolean;
  }) => ({
    severity: "warning",
    message: adjustable
      ? `${named(joint)} clamps something that is set by moving it, and nobody checks it again`
      : `${named(joint)} is to be checked again, and no step does`,
    hint: "name it in the `recheck` of a step after the first miles",
  }),
  "joint/passes": (
    {
      joint,
      problem,
      mended,
    }: {
      readonly joint: string;
      readonly problem:
        | { readonly is: "none" }
        | { readonly is: "falls"; readonly pass: number }
        | { readonly is: "not-full"; readonly share: number }
        | { readonly is: "beyond"; readonly pass: number; readonly share: number };
      /** What could stand there, where the passes are written in the build. */
      readonly mended?: string;
    },
    _,
    anchor,
  ) => ({
    severity: "warning",
    ...passesInWords(`the passes of ${named(joint)}`, problem),
    fixes: mended === undefined ? [] : [written(mended, mended, anchor)],
  }),
  "joint/columns": ({
    joint,
    each,
    columns,
  }: {
    readonly joint: string;
    readonly each: number;
    readonly columns: number;
  }) => ({
    severity: "warning",
    message: `${each} fasteners round a rectangle do not make ${columns} along each long side of ${named(joint)}`,
    hint: "a rectangle of 4 by 3 has 10: twice both sides, less the 4 corners; mend `count` or `columns`",
  }),
  "joint/places": ({
    joint,
    count,
    places,
  }: {
    readonly joint: string;
    readonly count: number;
    readonly places: number;
  }) => ({
    severity: "warning",
    message: `${named(joint)} has ${count} fasteners, the places of ${places} are written`,
    hint: "write one `places_x` and one `places_y` for each fastener, in the order of their numbers",
  }),
  "joint/groups": ({
    joint,
    count,
    groups,
  }: {
    readonly joint: string;
    readonly count: number;
    readonly groups: number;
  }) => ({
    severity: "warning",
    message: `the ${count} fasteners of ${named(joint)} do not make ${groups} equal groups`,
    hint: "write each group as a joint of its own, or mend `count` or `groups`",
  }),
  "joint/sequence": (
    {
      joint,
      better,
      count,
      missing,
      twice,
      unknown,
    }: Order & {
      readonly count: number;
      readonly missing: readonly number[];
      readonly twice: readonly number[];
      readonly unknown: readonly number[];
    },
    _,
    anchor,
  ) => {
    const parts = [
      ...(missing.length === 0 ? [] : [`leaves out ${andList(missing.map(String))}`]),
      ...(twice.length === 0 ? [] : [`names ${andList(twice.map(String))} twice`]),
      ...(unknown.length === 0
        ? []
        : [`names ${andList(unknown.map(String))}, which is none of its ${count}`]),
    ];
    return {
      message: `the order of ${named(joint)} ${andList(parts)}`,
      hint: `name each fastener once, for example ${better.join(", ")}`,
      fixes: bettering(better, anchor),
    };
  },
  "joint/neighbours": (
    {
      joint,
      better,
      pairs,
      across,
    }: Order & {
      readonly pairs: readonly (readonly [number, number])[];
      /** Round a circle, not along rows. */
      readonly across: boolean;
    },
    _,
    anchor,
  ) => ({
    severity: "warning",
    message: `the order of ${named(joint)} tightens neighbors one after the other: ${pairsInWords(pairs)}`,
    hint: betterOrder(across, better),
    fixes: bettering(better, anchor),
  }),
} satisfies Family;

// ───────────────────────────── helpers ─────────────────────────────

/** More of a list than this is told as a number. */
const mostNamed = 4;

function broken({ before, after, why, way, onOpen, there, rule }: Broken): Said {
  const through = way.length === 0 ? "" : ` (by way of ${andList(way.map(named))})`;
  const apart = onOpen ? "; if the two are done to different things, say so with `on`" : "";
  return {
    message: `${named(after)} is planned before ${named(before)}${through}: ${reasonInWords(why, after)}`,
    hint: `let ${named(after)} come after ${named(before)}${apart}`,
    related: [
      here(there),
      ...(rule === undefined ? [] : [{ anchor: rule, message: "the rule is here" }]),
    ],
  };
}

function passesInWords(
  where: string,
  problem:
    | { readonly is: "none" }
    | { readonly is: "falls"; readonly pass: number }
    | { readonly is: "not-full"; readonly share: number }
    | { readonly is: "beyond"; readonly pass: number; readonly share: number },
): Pick<Said, "message" | "hint"> {
  switch (problem.is) {
    case "none":
      return {
        message: `${where} are empty`,
        hint: "write the shares, such as [30 %, 70 %, 100 %]",
      };
    case "falls":
      return {
        message: `${where} do not climb: pass ${problem.pass} is not above the one before it`,
        hint: "let every pass go higher than the last",
      };
    case "beyond":
      return {
        message: `${where} go past the torque: pass ${problem.pass} is ${percent(problem.share)} of it`,
        hint: "end at 100 %, or raise the torque if that is what is meant",
      };
    case "not-full":
      return {
        message: `${where} end at ${percent(problem.share)} of its torque`,
        hint: "let the last pass be 100 %",
      };
  }
}

function bettering(better: readonly number[], anchor: Anchor) {
  return better.length === 0
    ? []
    : [written(better.join(", "), `[${better.join(", ")}]`, anchor, true)];
}
