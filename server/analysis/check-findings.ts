/**
 * What there is to find about checks: those that fail, that tolerances may break, that nobody can judge.
 *
 * Must not know: how anything was solved, how findings are worded.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Checked, Compared, Filled, Reach } from "../findings/checks";
import type { Severity } from "../findings/finding";
import type { Fact, Found } from "../findings/worded";
import type { ModelClaim } from "../model/model";
import { chanceOf, fewestPlaces, valueOf } from "../solve";
import type { Verdict } from "../solve/system";
import type { CheckResult } from "./analysis";
import type { FindingContext } from "./findings";
import { type SolvedCell, shown } from "./reasons";

/** A check that does not hold as drawn, or may not with the tolerances there are. */
export function checkFinding(
  check: CheckResult,
  claim: ModelClaim,
  about: {
    readonly limit: Fact<"check/fails">["limit"];
    readonly meant: () => Fact<"check/fails">["meant"];
  },
  context: FindingContext,
): Found | undefined {
  const { verdict, title, place: anchor } = check;
  if (verdict.nominal === "unknown") {
    if (!check.own) return undefined;
    const open = verdict.open.flatMap((index) => context.solved.figureAt(index)?.name ?? []);
    const valueless = claim.applies && open.length === 0;
    return { is: "check/cannot-judge", title, open, valueless, anchor };
  }
  const { remarks } = check;
  const fill = (text: string | undefined) => filled(text, claim, context);
  const checked: Checked = {
    code: check.code,
    title,
    path: check.thing?.path,
    severity: severityOf(remarks.severity),
    message: fill(remarks.message),
    advise: fill(remarks.advise),
    caution: fill(remarks.caution),
    compared: comparedIn(claim, context),
  };
  if (verdict.nominal === "fails")
    return { is: "check/fails", ...checked, limit: about.limit, meant: about.meant(), anchor };
  const { rss, worst } = verdict;
  // Where a side settles it without the other, there is no margin that tolerances could take.
  if (worst === "holds" || verdict.margin === undefined) return undefined;
  const { solved } = context;
  let chance: { readonly found: ReturnType<typeof chanceOf> } | undefined;
  return {
    is: "check/strained",
    ...checked,
    rss,
    worst,
    reach: reachOf(verdict, claim),
    witness: witnessOf(verdict, claim, solved),
    chance: () => {
      chance ??= { found: chanceOf(solved.solution, solved.local(claim)) };
      return chance.found;
    },
    anchor,
  };
}

/** One finding for all checks of a thing that must be judged and cannot be yet. */
export function unjudgedFindings(
  checks: readonly CheckResult[],
  openIn: (check: CheckResult) => readonly string[],
): Found[] {
  if (checks.length === 0) return [];
  const open = checks.filter(
    ({ own, remarks, verdict }) =>
      !own && remarks.needs !== undefined && verdict.nominal === "unknown",
  );
  const things = new Set(open.map(({ thing }) => thing));
  return [...things].flatMap((thing): Found[] => {
    const those = open.filter((check) => check.thing === thing);
    const [first] = those;
    if (first === undefined) return [];
    return [
      {
        is: "check/cannot-judge of-thing",
        path: thing?.path,
        titles: those.map(({ title }) => title),
        needs: [...new Set(those.flatMap(({ remarks }) => remarks.needs ?? []))],
        missing: [...new Set(those.flatMap((check) => openIn(check)))],
        unanswered: those.some(({ verdict }) => verdict.open.length === 0),
        anchor: first.place,
      },
    ];
  });
}

// ───────────────────────────── helpers ─────────────────────────────

function severityOf(text: string | undefined): Severity {
  return text === "warning" || text === "note" ? text : "error";
}

/** `set the knee to {knee_start}`: what the names in braces stand for, as the thing sees them. */
function filled(
  text: string | undefined,
  { thing, check }: ModelClaim,
  { valueIn }: FindingContext,
): Filled | undefined {
  if (text === undefined) return undefined;
  const values: Record<string, Filled["values"][string]> = {};
  for (const [, path = ""] of thing === undefined ? [] : text.matchAll(/\{([a-z_][\w.]*)\}/gi)) {
    const names = path
      .split(".")
      .map((name) => ({ type: "name" as const, text: name, span: check.node.span }));
    const value = thing && valueIn(thing, names);
    if (value === undefined) continue;
    const { measure, word } = value;
    // As checks are judged: how it comes out.
    const si = value.outcome()?.si ?? value.si;
    values[path] =
      measure === undefined ? String(word ?? path) : si === undefined ? path : { si, measure };
  }
  return { text, values };
}

function comparedIn(claim: ModelClaim, { solved }: FindingContext): Compared | undefined {
  const { compared } = claim;
  const { solution } = solved;
  const { variables } = solved.local(claim);
  if (compared === undefined) {
    const figures = variables.slice(0, 4).flatMap((index) => {
      const variable = solved.figureAt(index);
      if (variable === undefined) return [];
      const path = claim.own ? variable.name : variable.field.name;
      return [{ ...shown(variable, solution.values[index]), path }];
    });
    return { is: "figures", figures };
  }
  const found = valueOf(solution, { expression: compared.left, variables });
  const wanted = valueOf(solution, { expression: compared.right, variables });
  if (found === undefined || wanted === undefined) return undefined;
  const written = ({ span }: { readonly span: Anchor["span"] }): string =>
    textAt({ ...claim.check.anchor, span }).replaceAll(/\s+/g, " ");
  return {
    is: "sides",
    left: written(compared.leftNode),
    right: written(compared.rightNode),
    found,
    wanted,
    literal: isLiteral(compared.rightNode),
    relation: compared.relation,
    dimension: compared.dimension,
    measure: compared.measure,
  };
}

/** How much of its margin tolerances take: of one comparison, whose margin has a unit of its own. */
function reachOf({ spread }: Verdict, { compared }: ModelClaim): Reach | undefined {
  if (compared === undefined || spread === undefined) return undefined;
  const { below, worstBelow: by } = spread;
  if (below.known === "unlimited") return { is: "unlimited" };
  // Within a hundredth the furthest found and the bound are one number to anyone.
  const settled = by - below.found <= 0.01 * by || below.known === "found";
  return { is: "up to", by, found: settled ? undefined : below.found };
}

function witnessOf({ worst, witness }: Verdict, claim: ModelClaim, solved: SolvedCell) {
  return worst !== "fails" || witness === undefined
    ? []
    : [...fewestPlaces(solved.solution, solved.local(claim), witness)].flatMap(([index, value]) => {
        const variable = solved.figureAt(index);
        return variable === undefined ? [] : [shown(variable, value)];
      });
}

/** A figure as it is written, below zero too. */
function isLiteral(node: syntax.Expression): boolean {
  if (node.type === "unary") return node.operator === "-" && isLiteral(node.operand);
  return node.type === "number" || node.type === "quantity";
}
