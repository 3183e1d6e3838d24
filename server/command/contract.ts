/**
 * What the verbs write with `--format json`: a documented contract. Its JSON Schemas are generated
 * from here, checked in under `server/command/schema/` and printed by `trammel schema`.
 *
 * Fields may be added within a version; a change of meaning raises `schemaVersion`.
 *
 * Must not know: how the values come about.
 */
import { z } from "zod";
import {
  checkOutput,
  chooseOutput,
  compareOutput,
  curveOutput,
  explainOutput,
  showOutput,
} from "./contract-figures";
import type { finding, missing, value } from "./contract-shapes";
import { handoverOutput, measureOutput, planOutput } from "./contract-work";

export type { DerivationOutput } from "./contract-figures";
export type MeasureOutput = z.infer<typeof measureOutput>;
export type HandoverOutput = z.infer<typeof handoverOutput>;
export type PlanOutput = z.infer<typeof planOutput>;
export type CurveOutput = z.infer<typeof curveOutput>;
export type ChooseOutput = z.infer<typeof chooseOutput>;
export type ShowOutput = z.infer<typeof showOutput>;
export type CheckOutput = z.infer<typeof checkOutput>;
export type ExplainOutput = z.infer<typeof explainOutput>;
export type CompareOutput = z.infer<typeof compareOutput>;
export type FindingOutput = z.infer<typeof finding>;
export type ValueOutput = z.infer<typeof value>;
export type MissingOutput = z.infer<typeof missing>;

/** By verb. */
export const outputs = {
  show: showOutput,
  check: checkOutput,
  explain: explainOutput,
  compare: compareOutput,
  choose: chooseOutput,
  curve: curveOutput,
  plan: planOutput,
  handover: handoverOutput,
  measure: measureOutput,
} as const;

/** Whether what a verb writes is a contract. */
export function isContract(verb: string): verb is keyof typeof outputs {
  return Object.hasOwn(outputs, verb);
}

/** The JSON Schema (draft 2020-12) of what a verb writes. */
export function schemaOf(verb: keyof typeof outputs): Record<string, unknown> {
  const schema = z.toJSONSchema(outputs[verb], { target: "draft-2020-12" });
  return { ...schema, title: `trammel ${verb} --format json` };
}
