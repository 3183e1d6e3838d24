/**
 * `trammel explain`: where a figure comes from, down to what the builder wrote; with `--fit`, what
 * would make a failing check hold.
 */

import type { Analysis, CheckResult, Contradiction, Mendable, Value } from "../analysis/analysis";
import type { Tried } from "../analysis/changes-tried";
import { type Derivation, derivationOf } from "../report/derivation";
import { countsOf, placedFindings } from "../report/placed-finding";
import { failingLevel } from "../solve";
import { writeSi } from "../units";
import { askedPath } from "./asked-paths";
import type { DerivationOutput, ExplainOutput } from "./contract";
import { schemaVersion } from "./contract-version";
import { derivationLines, fitLines, type ToMend } from "./explain-text";
import type { Palette } from "./palette";
import { print, printJson } from "./print";
import { CommandProblem, exit } from "./problem";
import type { Session, View } from "./session";
import { valueOutput } from "./value-json";

export interface ExplainOptions extends View {
  readonly format: "text" | "json";
  readonly fit: boolean;
  readonly depth?: number;
}

export function explain(
  file: string,
  path: string | undefined,
  options: ExplainOptions,
  session: Session,
  palette: Palette,
): number {
  const build = session.open(file, options);
  const { analysis } = build;
  const value = path === undefined ? undefined : valueFor(path, analysis, options.fit);
  if (value === undefined && !options.fit)
    throw new CommandProblem("say which value to explain, or add --fit");
  const derivation =
    value === undefined ? undefined : derivationOf(analysis, value, { depth: options.depth });
  const wrong = options.fit ? toMend(path, value, analysis) : undefined;
  if (wrong?.contradictions.length === 0 && wrong.checks.length === 0) session.askWhole();
  if (options.format === "json") {
    const output: ExplainOutput = {
      schemaVersion,
      file: build.name,
      ...(options.option === undefined ? {} : { option: options.option }),
      ...(options.asBuilt === true ? { asBuilt: true as const } : {}),
      ...(value === undefined ? {} : { path: value.path }),
      ...(derivation === undefined ? {} : { derivation: derivationOutput(derivation, analysis) }),
      ...(wrong === undefined
        ? {}
        : {
            contradictions: wrong.contradictions.map((each) => contradictionOutput(each, analysis)),
            checks: wrong.checks.map((check) => checkOutput(check, analysis)),
          }),
    };
    printJson(session.world, output);
  } else {
    const lines = [
      ...(derivation === undefined ? [] : derivationLines(derivation, analysis, palette)),
      ...(derivation !== undefined && wrong !== undefined ? [""] : []),
      ...(wrong === undefined ? [] : fitLines(wrong, analysis, palette)),
    ];
    print(session.world, lines);
  }
  const findings = placedFindings(analysis, (uri) => session.nameOf(uri));
  return countsOf(findings).errors > 0 ? exit.findings : exit.clean;
}

// ───────────────────────────── helpers ─────────────────────────────

function valueFor(path: string, analysis: Analysis, fit: boolean): Value | undefined {
  const asked = askedPath(path, analysis);
  if (!(asked instanceof CommandProblem)) {
    const [value] = asked.values;
    if (asked.values.length === 1) return value;
    if (fit) return undefined;
    if (asked.silent !== undefined)
      throw new CommandProblem(
        `there is nothing to explain: no relation or line of the build says anything about ${path}`,
      );
    throw new CommandProblem(
      `${path} is a whole thing; name one of its fields, such as ${asked.values.find((each) => each.standing === "solved")?.path ?? value?.path ?? `${path}.…`}`,
    );
  }
  if (fit && analysis.checks.some((check) => isCalled(check, path))) return undefined;
  throw asked;
}

/** Contradictions and failing checks: all of them, or those about what was named. */
function toMend(path: string | undefined, value: Value | undefined, analysis: Analysis): ToMend {
  const isNamed = (figure: string): boolean =>
    path === undefined || figure === (value?.path ?? path) || figure.startsWith(`${path}.`);
  return {
    contradictions: analysis.contradictions.filter(({ inputs }) => inputs.some(isNamed)),
    checks: failingChecks(path, value, analysis),
  };
}

/** Failing checks: all of them, or those about a value, of a thing, or of that title or code. */
function failingChecks(
  path: string | undefined,
  value: Value | undefined,
  analysis: Analysis,
): CheckResult[] {
  const thing = path === undefined ? undefined : analysis.thingAt(path);
  return analysis.checks.filter((check) => {
    if (failingLevel(check.verdict) === undefined) return false;
    if (path === undefined) return true;
    if (value !== undefined) return check.inputs.includes(value.path);
    if (thing !== undefined)
      return check.thing === thing || check.thing?.path.startsWith(`${thing.path}.`) === true;
    return isCalled(check, path);
  });
}

function isCalled(check: CheckResult, name: string): boolean {
  return check.title === name || check.code === name;
}

function derivationOutput(node: Derivation, analysis: Analysis): DerivationOutput {
  const { value } = node;
  const contributors = value.contributors();
  return {
    path: value.path,
    value: valueOutput(value, analysis),
    ...(value.reason === undefined ? {} : { formula: value.reason.formula }),
    ...(node.numbers === undefined ? {} : { numbers: node.numbers }),
    ...((value.reason?.together.length ?? 0) > 1
      ? { together: [...(value.reason?.together ?? [])] }
      : {}),
    ...(value.reason?.whatever === undefined ? {} : { whatever: value.reason.whatever }),
    ...(contributors.length === 0 || value.standing === "given"
      ? {}
      : { contributors: contributors.map((each) => ({ ...each })) }),
    inputs: node.inputs.map((input) => derivationOutput(input, analysis)),
    ...(node.closed === undefined ? {} : { closed: node.closed }),
  };
}

function checkOutput(
  check: CheckResult,
  analysis: Analysis,
): NonNullable<ExplainOutput["checks"]>[number] {
  return {
    title: check.title,
    code: check.code,
    ...(check.thing === undefined || check.thing.path === "" ? {} : { thing: check.thing.path }),
    condition: check.condition,
    fails: failingLevel(check.verdict) ?? "nominal",
    tighter: check.tighter().map(({ figures, share }) => ({
      figures: figures.map((each) => ({ ...each })),
      share,
    })),
    ...mendsOutput(check, analysis),
  };
}

function contradictionOutput(
  contradiction: Contradiction,
  analysis: Analysis,
): NonNullable<ExplainOutput["contradictions"]>[number] {
  const { message, inputs, measured } = contradiction;
  return {
    message,
    figures: [...inputs],
    measured: [...measured],
    ...mendsOutput(contradiction, analysis),
  };
}

/** What would mend it, each with what it does elsewhere. */
function mendsOutput(
  wrong: Mendable,
  analysis: Analysis,
): Pick<NonNullable<ExplainOutput["checks"]>[number], "otherParts" | "fits"> {
  const effectOutput = ({ holds, moves, breaks }: Tried) => ({
    holds,
    moves: moves.map((each) => ({ ...each })),
    breaks: breaks.map((each) => ({ ...each })),
  });
  return {
    otherParts: wrong.otherParts().map((each) => {
      const { path, part, was } = each;
      return { path, part, was, ...effectOutput(each) };
    }),
    fits: wrong.fits().flatMap((fit) => {
      const [first, second] = fit.offers;
      const si = first === undefined ? undefined : writeSi(first.si);
      if (first === undefined || si === undefined) return [];
      const { path, shown } = first;
      const now = analysis.valueAt(path);
      return [
        {
          path,
          si,
          shown,
          ...(second === undefined ? {} : { beside: { path: second.path, shown: second.shown } }),
          ...(now === undefined ? {} : { was: now.written ?? analysis.write(now) }),
          ...effectOutput(fit),
        },
      ];
    }),
  };
}
