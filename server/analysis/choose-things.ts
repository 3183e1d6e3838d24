/**
 * Finds, among the things of a kind in scope (a shop's list of wheels, tires, housings), those
 * that fit a build together: every check holds, and what is spared is least.
 *
 *     await analysis.choose({ fields: ["rear.wheel", "rear.tire"], by: "price" })
 *
 * The fields are freed, so that a stand-in takes their place whose figures are those of each
 * candidate in turn; the solver searches the combinations. What it finds is then put into the
 * build in earnest and kept only where no finding of it is an error.
 *
 * Must not know: which kinds there are.
 */
import { parseItem } from "../../grammar/parser";
import { namesOfKind } from "../model/binder";
import type { Finding } from "../model/finding";
import type { FigureId } from "../model/ids";
import { choose, solve, verdictOf, withGivens } from "../solve";
import type { Candidate, Choice, ChoiceControl } from "../solve/choose";
import type { Claim, GivenNumber, Quantity, System, Variable } from "../solve/system";
import type { Measure } from "../units";
import type { Analysis, ChooseAnswer, ChooseRequest, ChosenThings } from "./analysis";
import type { BuildAnalysis } from "./build-analysis";
import type { BuildCell } from "./build-cells";
import { FigureValue } from "./figure-value";
import { trialItem } from "./overlay";

export async function chooseThings(
  analysis: BuildAnalysis,
  request: ChooseRequest,
  control: ChoiceControl,
): Promise<ChooseAnswer> {
  const slots = slotsOf(analysis, request);
  if (typeof slots === "string") return refused(slots);
  const { rootUri: uri } = analysis;
  const lines = slots.map(({ path }) => `${path}: ?`).join("\n");
  const freed = analysis.with({ is: "lines", item: trialItem(lines), uri });
  const names = slots.flatMap((slot) => slot.names);
  const shelf = parseItem(`check "shelf": ${names.join(" == 0 and ")} == 0`);
  const shelves = analysis.with({ is: "lines", item: shelf, uri });
  const keep = request.keep ?? 5;
  const objective = objectiveOf(request.by, freed, slots);
  if (typeof objective === "string") return refused(objective);
  const around = surroundings(freed, slots, objective?.figure);
  const places = placesOf(around.cell, objective);
  const candidates = slots.map((slot, number) =>
    slot.names.map((name) =>
      candidateOf(shelves, name, around, slot, places.extra[number], request.by),
    ),
  );
  const claims = judgeable(around.claims, places.system, candidates);
  const answer = await choose(
    {
      system: places.system,
      slots: candidates.map((each) => ({ candidates: each })),
      claims,
      objective: places.quantity,
      // More than is wanted, since some may fall through when they are put in in earnest.
      keep: keep * 4,
    },
    control,
  );
  const choices: ChosenThings[] = [];
  for (const choice of answer.choices) {
    if (choices.length >= keep) break;
    const chosen = inEarnest(analysis, slots, choice);
    const unjudged = choice.unjudged.flatMap((claim) => claims[claim]?.title ?? []);
    if (chosen !== undefined) choices.push({ ...chosen, unjudged });
  }
  return {
    choices,
    measure: objective?.measure,
    combinations: slots.reduce((product, slot) => product * slot.names.length, 1),
    candidates: slots.map((slot) => ({ field: slot.path, things: slot.names })),
    blocking: answer.blocking === undefined ? undefined : claims[answer.blocking]?.title,
    complete: answer.complete,
  };
}

// ───────────────────────────── helpers ─────────────────────────────

interface PlacedClaim extends Claim {
  readonly title: string;
}

/** What hangs together with the freed fields: one system, and the claims to hold in it. */
interface Around {
  readonly cell: BuildCell;
  /** By the path of each stand-in's figure, as the build calls it. */
  readonly figures: ReadonlyMap<string, FigureId>;
  readonly claims: readonly PlacedClaim[];
}

function surroundings(
  { reading }: BuildAnalysis,
  slots: readonly Slot[],
  objective: FigureId | undefined,
): Around {
  const { cells } = reading;
  const figures = new Map<string, FigureId>();
  for (const { row } of reading.rows) {
    for (const figure of row.figures) {
      const path = reading.figure(figure)?.name ?? "";
      if (slots.some((slot) => path.startsWith(`${slot.path}.`))) figures.set(path, figure);
    }
  }
  const wanted = new Set(figures.values());
  const near = new Set<BuildCell>();
  for (const figure of wanted) {
    const cell = cells.cellOf(figure);
    if (cell !== undefined) near.add(cell);
  }
  const touched = (figure: FigureId): boolean => {
    const cell = cells.cellOf(figure);
    return wanted.has(figure) || (cell !== undefined && near.has(cell));
  };
  const claims = reading.rows
    .flatMap(({ row }) => row.claims)
    .filter((claim) => claim.applies && claim.figures.some(touched));
  for (const claim of claims) for (const figure of claim.figures) wanted.add(figure);
  if (objective !== undefined) wanted.add(objective);
  const cell = cells.wholeFor([...wanted]);
  return {
    cell,
    figures,
    claims: claims.map(({ condition, when, check, figures: over }) => ({
      condition,
      when,
      title: check.title,
      variables: over.map((figure) => cell.placeOf(figure) ?? -1),
    })),
  };
}

/** Claims that some candidate lets be judged: one that says too little does not switch it off. */
function judgeable(
  claims: readonly PlacedClaim[],
  system: System,
  candidates: readonly (readonly Candidate[])[],
): readonly PlacedClaim[] {
  const first = candidates.map(([candidate]) => candidate?.givens ?? []);
  const open = new Set(claims);
  for (const [slot, list] of candidates.entries()) {
    for (const { givens } of list) {
      if (open.size === 0) break;
      const picked = first.flatMap((each, at) => (at === slot ? givens : each));
      const changes = new Map(picked.map(({ variable, given }) => [variable, given]));
      const solution = solve(withGivens(system, changes));
      for (const claim of open) {
        if (verdictOf(solution, claim).nominal !== "unknown") open.delete(claim);
      }
    }
  }
  return claims.filter((claim) => !open.has(claim));
}

interface Slot {
  readonly path: string;
  /** Candidates as the root file calls them. */
  readonly names: readonly string[];
}

function refused(problem: string): ChooseAnswer {
  return { choices: [], combinations: 0, candidates: [], complete: true, problem };
}

function slotsOf(analysis: BuildAnalysis, request: ChooseRequest): readonly Slot[] | string {
  if (request.fields.length === 0) return "say which fields to fill, such as rear.wheel";
  const slots: Slot[] = [];
  for (const path of request.fields) {
    const at = path.lastIndexOf(".");
    const owner = at < 0 ? undefined : analysis.thingAt(path.slice(0, at));
    const field = owner?.field(path.slice(at + 1));
    if (owner === undefined || field === undefined) return `there is no field ${path}`;
    if (field.type.form !== "reference") return `${path} does not stand for a thing`;
    const names = namesOfKind(analysis.reading.build.root.scope, field.type.kind, "");
    if (names.length === 0) return `there is no ${field.type.kind} to choose from for ${path}`;
    slots.push({ path, names });
  }
  return slots;
}

/** The figures of the stand-in, as the candidate has them. */
function candidateOf(
  shelves: BuildAnalysis,
  name: string,
  { cell, figures }: Around,
  slot: Slot,
  extra: number | undefined,
  by: string | undefined,
): Candidate {
  const givens: { variable: number; given: GivenNumber }[] = [];
  const prefix = `${slot.path}.`;
  const add = (variable: number | undefined, path: string): void => {
    const value = shelves.valueAt(path);
    if (variable === undefined || value?.si === undefined) return;
    const spread = value.spread();
    const low = value.si - (spread?.worstBelow ?? 0);
    const high = value.si + (spread?.worstAbove ?? 0);
    givens.push({ variable, given: { value: value.si, low, high, rounding: 0 } });
  };
  for (const [path, figure] of figures) {
    if (path.startsWith(prefix)) add(cell.placeOf(figure), `${name}.${path.slice(prefix.length)}`);
  }
  if (by !== undefined) add(extra, `${name}.${by}`);
  return { givens };
}

interface Objective {
  readonly measure?: Measure;
  /** A figure of the build; without one a field that each thing has. */
  readonly figure?: FigureId;
  readonly slots: readonly Slot[];
}

function objectiveOf(
  by: string | undefined,
  freed: BuildAnalysis,
  slots: readonly Slot[],
): Objective | undefined | string {
  if (by === undefined) return undefined;
  if (by.includes(".")) {
    const value = freed.valueAt(by);
    if (!(value instanceof FigureValue)) return `there is no figure ${by} to be sparing with`;
    return { figure: value.id, measure: value.measure, slots };
  }
  const fields = slots.map(({ path }) => freed.thingAt(path)?.field(by));
  const type = fields.find((field) => field !== undefined)?.type;
  if (type?.form !== "measure") return `these things have no figure ${by}`;
  return { measure: type.measure, slots };
}

/** The system to choose in; with a variable for each slot that holds the field of its candidate. */
function placesOf(
  cell: BuildCell,
  objective: Objective | undefined,
): { system: System; extra: readonly number[]; quantity?: Quantity } {
  const { system } = cell.solution;
  if (objective === undefined) return { system, extra: [] };
  if (objective.figure !== undefined) {
    const variables = [cell.placeOf(objective.figure) ?? -1];
    return { system, extra: [], quantity: { expression: { op: "slot", index: 0 }, variables } };
  }
  const variables: Variable[] = [...system.variables];
  const extra = objective.slots.map(({ path }) => {
    variables.push({ name: `${path} `, scale: objective.measure?.scale ?? 1, askedFirst: false });
    return variables.length - 1;
  });
  const sum = extra
    .map((_, index) => ({ op: "slot", index }) as const)
    .reduce<Quantity["expression"]>((left, right) => ({ op: "add", left, right }), {
      op: "number",
      value: 0,
    });
  return {
    system: { variables, equations: system.equations },
    extra,
    quantity: { expression: sum, variables: extra },
  };
}

/** No check fails, and nothing is wrong that was not wrong before; other things have their own faults. */
function fits(tried: Analysis, before: Analysis): boolean {
  const known = new Set(before.findings);
  const said = new Set(before.findings.map(inPlace));
  const ofChecks = new Set(tried.checks.map(({ code }) => code));
  return tried.findings.every((finding) => {
    if (finding.severity !== "error" || known.has(finding)) return true;
    return !ofChecks.has(finding.code) && said.has(inPlace(finding));
  });
}

function inPlace({ code, message, anchor }: Finding): string {
  return `${code} ${anchor.uri} ${anchor.item.text} ${anchor.span.start} ${message}`;
}

/** Puts the picks into the build and solves it whole. */
function inEarnest(
  analysis: Analysis,
  slots: readonly Slot[],
  choice: Choice,
): Omit<ChosenThings, "unjudged"> | undefined {
  const picks = slots.map((slot, number) => ({
    field: slot.path,
    thing: slot.names[choice.picks[number] ?? 0] ?? "",
  }));
  const tried = analysis.trying(picks.map(({ field, thing }) => `${field}: ${thing}`).join("\n"));
  if (!fits(tried, analysis)) return undefined;
  return {
    picks: picks.map((pick) => ({ ...pick, title: tried.thingAt(pick.thing)?.title })),
    objective: choice.objective,
    analysis: tried,
  };
}
