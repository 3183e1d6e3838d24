/**
 * What is found in results of rows, each by itself and in the cells they share: what contradicts, what
 * fails, what each row objects to, what is missing.
 *
 * Must not know: options, files as a whole, how anything is worded.
 */

import type { Anchor } from "../../grammar/anchor";
import { Findings } from "../findings/collected";
import type { Found } from "../findings/worded";
import { inTime, pause, timeIsUp } from "../keep/patience";
import type { ModelVariable } from "../model/model";
import type { FigureId } from "../names/ids";
import type { Conflict } from "../solve/system";
import { againstDefault } from "./against-default";
import type { Contradiction, Value } from "./analysis";
import type { Asked } from "./asked";
import type { BuildAnalysis } from "./build-analysis";
import type { BuildCell } from "./build-cells";
import { contradicted } from "./contradicted";
import { contradictory, repairsOf } from "./contradictions";
import { FigureValue } from "./figure-value";
import { currencyFinding, type FindingContext, failureFinding } from "./findings";
import { allotments } from "./kits";
import { doubtedInput } from "./looks";
import { misclosure } from "./misclosure";
import { missingFindings } from "./missing-findings";
import type { Reading } from "./reading";
import { SolvedCell } from "./reasons";
import { misclosedAsWritten } from "./reconciled";
import type { RowResult } from "./row-result";
import { stackFindings } from "./stacks";
import { ToldPlaces } from "./told-places";
import type { CheckSource } from "./verdicts";

export interface OwnFindings {
  /** All but what is missing. */
  readonly list: readonly Found[];
  readonly contradictions: readonly Contradiction[];
  /** What that is told of. */
  readonly open: readonly Asked[];
  /** What is missing, with the advice there is by now. */
  missing(): readonly Found[];
  readonly failures: ReadonlyMap<FigureId, Found>;
}

/**
 * What is found in some results of a build, and in some lines; `prices`: whether other currencies are
 * among them.
 */
export function findingsIn(
  build: BuildAnalysis,
  results: readonly RowResult[],
  ofLines: readonly Found[],
  prices = true,
): OwnFindings {
  const { reading } = build;
  const findings = new Findings();
  for (const finding of ofLines) findings.add(finding);
  for (const each of reading.misclosed) {
    const apart = inTime(() => misclosure(each, contextOf(build, each.cell)), undefined);
    if (apart !== undefined) findings.add(apart);
  }
  const contradictions: Contradiction[] = [];
  const contradicts = (each: Contradiction): void => {
    contradictions.push(each);
    findings.add(each.finding);
  };
  const failures = new Map<FigureId, Found>();
  const places = new Set<Anchor>();
  const bad = badCells(build, results);
  for (const cell of contradictory(reading, bad.keys())) {
    const found = wholly(build, bad.get(cell), () => contradictionsOf(build, cell));
    for (const doubted of found?.findings ?? []) findings.add(doubted);
    for (const each of found?.contradictions ?? []) contradicts(each);
  }
  for (const [cell, result] of badCells(build, build.results)) {
    for (const { number, finding, against } of wholly(build, result, () =>
      failuresOf(build, cell),
    ) ?? []) {
      if (bad.has(cell)) {
        if (against === undefined) findings.add(finding);
        else contradicts(against);
      }
      places.add(finding.anchor);
      // What would follow from it fails with it.
      for (const [variable, determination] of cell.solution.determinations.entries()) {
        const figure = cell.keys[variable];
        if (determination.how !== "failed" || determination.failure !== number) continue;
        if (figure !== undefined) failures.set(figure, finding);
      }
    }
  }
  for (const result of results)
    for (const finding of inRow(build, result, "findings") ?? []) findings.add(finding);
  // Amounts are compared all over the build, and kits serve all of it.
  const currencies = prices ? currencyFinding(pricedIn(build.results)) : undefined;
  if (currencies !== undefined) findings.add(currencies);
  const kits = allotments(reading);
  if (kits.size > 0 && results.some(({ of: { row } }) => row.stacks.length > 0)) {
    const value = (figure: FigureId) => build.valueOf(figure);
    for (const finding of stackFindings(kits, value)) findings.add(finding);
  }
  const own = new Set<Anchor>();
  for (const result of results)
    for (const { anchor } of inRow(build, result, "open") ?? []) own.add(anchor);
  if (own.size === 0)
    return { list: findings.list, contradictions, open: [], missing: () => [], failures };
  const told = new ToldPlaces(
    [...findings.list, ...reading.findings, ...build.results.flatMap((result) => result.findings)],
    (path) => build.valueAt(path),
  );
  // One cause is told once, whoever else it is behind: groups are made of all there is.
  const advised = new Map(build.askedOf(build.results).map((each) => [each.anchor, each]));
  const open = build.results
    .flatMap((result) => result.missing(failureIn(failures)))
    // What failed says so at this very place.
    .filter(({ asked }) => !places.has(asked.anchor))
    .map((each) => ({ ...each, asked: advised.get(each.asked.anchor) ?? each.asked }));
  const missing = () => wholly(build, undefined, () => missingFindings(open, told, own)) ?? [];
  return {
    list: findings.list,
    contradictions,
    open: open.map(({ asked }) => asked),
    missing,
    failures,
  };
}

/** What findings about a cell are put together with. */
export function contextOf(
  { reading, writer, asks }: BuildAnalysis,
  cell: BuildCell,
): FindingContext & CheckSource {
  return {
    reading,
    writer,
    solved: new SolvedCell(reading, cell),
    asks,
    orderOf: (anchor) => orderOf(reading, anchor),
    valueIn: () => undefined,
  };
}

// ───────────────────────────── helpers ─────────────────────────────

/**
 * What is found about a row or what it speaks of; nothing where the time ends on the way, since some of
 * it would be seen as it is not.
 */
function wholly<T>(
  { reading }: BuildAnalysis,
  about: RowResult | undefined,
  find: () => T,
): T | undefined {
  const { patience } = reading.workshop;
  pause(patience);
  const found = inTime<T | undefined>(find, undefined);
  if (!timeIsUp(patience)) return found;
  const placed = about?.of.placed;
  if (placed !== undefined) reading.leftOut.note("objections", placed.file.uri, placed.item);
  return undefined;
}

/** The same of something that is asked of a row. */
function inRow<Name extends Parameters<RowResult["knows"]>[0]>(
  build: BuildAnalysis,
  result: RowResult,
  name: Name,
): RowResult[Name] | undefined {
  const isKnown = result.knows(name) && !timeIsUp(build.reading.workshop.patience);
  return isKnown ? result[name] : wholly(build, result, () => result[name]);
}

/** What has a price, wherever it is. */
function* pricedIn(results: readonly RowResult[]): Generator<ModelVariable> {
  for (const { priced } of results) if (priced.length > 0) yield* priced;
}

/** What in a cell cannot be as it is given. */
function contradictionsOf(build: BuildAnalysis, cell: BuildCell) {
  const findings: Found[] = [];
  const contradictions: Contradiction[] = [];
  const context = contextOf(build, cell);
  const repairs = repairsOf(context.solved);
  const misclosed = misclosedAsWritten(cell, (figure) => build.reading.figure(figure));
  const between = misclosed && misclosure(misclosed, context);
  if (between !== undefined) findings.push(between);
  for (const conflict of cell.solution.conflicts) {
    if (between !== undefined && isBetween(conflict, misclosed?.readings, cell)) continue;
    const doubted = doubtedInput(conflict, context);
    const told = doubted === undefined ? contradicted(conflict, repairs, context) : undefined;
    if (doubted !== undefined) findings.push(doubted);
    else if (told !== undefined) contradictions.push(told);
  }
  return { findings, contradictions };
}

/** What in a cell cannot be worked out, and where that contradicts a default. */
function failuresOf(build: BuildAnalysis, cell: BuildCell) {
  const context = contextOf(build, cell);
  return [...cell.solution.failures.entries()].flatMap(([number, failure]) => {
    const doubted = doubtedInput(failure, context);
    const against = doubted === undefined ? againstDefault(failure, context) : undefined;
    const finding = doubted ?? against?.finding ?? failureFinding(failure, context);
    return finding === undefined ? [] : [{ number, finding, against }];
  });
}

/** Whether nothing but readings take part. */
function isBetween(
  { givens }: Conflict,
  readings: ReadonlySet<FigureId> | undefined,
  { keys }: BuildCell,
): boolean {
  return givens.every(({ variable }) => {
    const figure = keys[variable];
    return figure !== undefined && readings?.has(figure) === true;
  });
}

/** Cells in which something contradicts or fails, each with a row that speaks of it. */
function badCells(
  build: BuildAnalysis,
  results: Iterable<RowResult>,
): ReadonlyMap<BuildCell, RowResult> {
  const bad = new Map<BuildCell, RowResult>();
  for (const result of results)
    for (const cell of inRow(build, result, "bad") ?? []) if (!bad.has(cell)) bad.set(cell, result);
  return bad;
}

/** Why a value that should have come out did not. */
export function failureIn(failures: ReadonlyMap<FigureId, Found>) {
  return (value: Value): Found | undefined =>
    value instanceof FigureValue ? failures.get(value.id) : undefined;
}

/** Where something stands: the file of the build itself goes last. */
export function orderOf({ build }: Reading, { uri, item, span }: Anchor): readonly number[] {
  const number = build.files.findIndex((file) => file.uri === uri);
  const offset = build.files[number]?.source.offsetOf(item, span.start) ?? span.start;
  return [number === 0 ? 1 : 0, number, offset];
}
