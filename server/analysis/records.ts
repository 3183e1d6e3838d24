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
import { textAt } from "../model/anchor";
import type { Finding } from "../model/finding";
import { readFigure } from "../model/literal";
import type { Analysis, RecordInfo, Value } from "./analysis";
import type { Writer } from "./wording";

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
  readonly anchor: Finding["anchor"];
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

export function recordFindings(analysis: Analysis, writer: Writer): Finding[] {
  return measurementsOf(analysis).flatMap((measurement) => {
    const { value, si, within, record, low, high } = measurement;
    if (within !== false || value.si === undefined || low === undefined || high === undefined)
      return [];
    const far = si > value.si ? si - value.si : value.si - si;
    const write = (figure: number): string => writer.fine(figure, value.measure);
    const when = record.date === undefined ? "" : ` on ${record.date}`;
    const allowed = high - low <= 0 ? "" : `, ${write(low)} to ${write(high)} is allowed`;
    return [
      {
        code: "record/out-of-tolerance",
        severity: "warning" as const,
        message: `${value.path} was measured ${write(si)}${when}, the spec has ${write(value.si)}: ${write(far)} ${si > value.si ? "over" : "under"}${allowed}`,
        hint: "measure again; if it stands, see what it changes in the as-built view and mend the part or the spec",
        anchor: measurement.anchor,
        related:
          value.anchor === undefined ? [] : [{ anchor: value.anchor, message: "the spec is here" }],
      },
    ];
  });
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
    const limits = limitsOf(value);
    const slack = sureness + 1e-9 * Math.abs(figure.value);
    const within =
      limits === undefined
        ? undefined
        : figure.value >= limits.low - slack && figure.value <= limits.high + slack;
    return [{ record, value, si: figure.value, sureness, ...limits, within, anchor }];
  });
}

function limitsOf(value: Value): { low: number; high: number } | undefined {
  if (value.si === undefined) return undefined;
  const spread = value.spread();
  return { low: value.si - (spread?.worstBelow ?? 0), high: value.si + (spread?.worstAbove ?? 0) };
}
