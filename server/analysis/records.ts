/**
 * Measurements held against the spec: what was recorded, what was wanted, how far apart they are.
 *
 * A record never changes the spec. A measurement agrees where its distance from the spec is within
 * the spec's own limits (or, where it states none, its worst-case spread and rounding), widened by
 * how surely it was measured.
 *
 * Must not know: steps, joints, the order of work.
 */

import type * as syntax from "../../grammar/syntax";
import { type Anchor, textAt } from "../model/anchor";
import { readFigure } from "../model/literal";
import type { Analysis, RecordInfo, Value } from "./analysis";

/** A figure written in a record beside the value it is held against. */
export interface Measurement {
  readonly record: RecordInfo;
  readonly value: Value;
  /** As measured, SI. */
  readonly si: number;
  /** How surely it was measured, one side, SI: its tolerance, or half of its last written step. */
  readonly sureness: number;
  /** Spec's limits, SI, where the spec has a value. */
  readonly low?: number;
  readonly high?: number;
  readonly within?: boolean;
  readonly anchor: Anchor;
}

const known = new WeakMap<Analysis, readonly Measurement[]>();

/** Every figure in the records that names a field of the build, in file order. */
export function measurementsOf(analysis: Analysis): readonly Measurement[] {
  const before = known.get(analysis);
  if (before !== undefined) return before;
  const found = analysis.records.flatMap((record) =>
    measured(record, record.node.members, [], analysis),
  );
  known.set(analysis, found);
  return found;
}

/** A figure as measured against the spec's limits; `sureness`: one side, SI. */
export function heldAgainst(
  value: Value,
  si: number,
  sureness: number,
): Pick<Measurement, "low" | "high" | "within"> {
  const limits = limitsOf(value);
  if (limits === undefined) return {};
  const slack = sureness + 1e-9 * Math.abs(si);
  return { ...limits, within: si >= limits.low - slack && si <= limits.high + slack };
}

// ───────────────────────────── helpers ─────────────────────────────

function measured(
  record: RecordInfo,
  members: readonly syntax.Member[],
  prefix: readonly string[],
  analysis: Analysis,
): Measurement[] {
  return members.flatMap((member) => {
    if (member.type === "part")
      return measured(
        record,
        member.members,
        [...prefix, ...member.path.names.map((name) => name.text)],
        analysis,
      );
    if (member.type !== "given") return [];
    const path = [...prefix, ...member.path.names.map((name) => name.text)].join(".");
    const value = analysis.valueAt(path);
    if (value?.measure === undefined) return [];
    const anchor = { ...record.anchor, span: member.value.span };
    const reading = readFigure(member.value, value.measure, (span) => textAt({ ...anchor, span }));
    if (reading.is !== "figure") return [];
    const { figure } = reading;
    const sureness = figure.toleranced ? (figure.high - figure.low) / 2 : figure.rounding;
    const held = heldAgainst(value, figure.value, sureness);
    return [{ record, value, si: figure.value, sureness, ...held, anchor }];
  });
}

function limitsOf(value: Value): { low: number; high: number } | undefined {
  if (value.si === undefined) return undefined;
  const spread = value.spread();
  return { low: value.si - (spread?.worstBelow ?? 0), high: value.si + (spread?.worstAbove ?? 0) };
}
