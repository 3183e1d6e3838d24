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
import type { Item } from "../../grammar/syntax";
import type { Finding } from "../model/finding";
import type { ModelClaim } from "../model/model";
import type { FileScope } from "../model/scope";
import type { Thing } from "../model/thing";
import { choose, solve, verdictOf, withGivens } from "../solve";
import type { Candidate, Choice, ChoiceControl } from "../solve/choose";
import type { GivenNumber, Quantity, System, Variable } from "../solve/system";
import type { Analysis, ChooseAnswer, ChooseRequest, ChosenThings } from "./analysis";
import type { BuildFiles } from "./files";
import { type GroupContext, GroupResult } from "./group-result";
import { groupsOf, type Placed } from "./groups";

/** Not a name a builder can write, so that it never meets one of theirs. */
export const trialName = "trial";

/** Lines laid over a build, as an item that stands in no file. */
export function trialItem(lines: string): Item {
  return parseItem(`option ${trialName} {\n${lines}\n}`);
}

export async function chooseThings(
  analysis: Analysis,
  build: BuildFiles,
  context: GroupContext,
  request: ChooseRequest,
  control: ChoiceControl,
): Promise<ChooseAnswer> {
  const slots = slotsOf(analysis, build, request);
  if (typeof slots === "string") return refused(slots);
  const freed = freedGroup(build, context, slots);
  if (freed === undefined) return refused("the build has nothing these fields belong to");
  const shelves = shelvesOf(build, context, slots);
  const keep = request.keep ?? 5;
  const variables: Variable[] = [...freed.model.variables];
  const objective = objectiveOf(request.by, freed, variables, slots);
  if (typeof objective === "string") return refused(objective);
  const candidates = slots.map((slot, number) =>
    slot.names.map((name) =>
      candidateOf(shelves, name, freed, slot, objective?.extra?.[number], request.by),
    ),
  );
  const system = { variables, equations: freed.model.equations };
  const claims = judgeable(
    freed.model.claims.filter((claim) => claim.applies),
    system,
    candidates,
  );
  const answer = await choose(
    {
      system,
      slots: candidates.map((each) => ({ candidates: each })),
      claims,
      objective: objective?.quantity,
      // More than is wanted, since some may fall through when they are put in in earnest.
      keep: keep * 4,
    },
    control,
  );
  const choices: ChosenThings[] = [];
  for (const choice of answer.choices) {
    if (choices.length >= keep) break;
    const chosen = inEarnest(analysis, slots, choice);
    if (chosen !== undefined) choices.push(chosen);
  }
  return {
    choices,
    measure: objective?.measure,
    combinations: slots.reduce((product, slot) => product * slot.names.length, 1),
    candidates: slots.map((slot) => ({ field: slot.path, things: slot.names })),
    blocking: answer.blocking === undefined ? undefined : claims[answer.blocking]?.check.title,
    complete: answer.complete,
  };
}

// ───────────────────────────── helpers ─────────────────────────────

/**
 * Claims that every candidate lets be judged. What some candidate says too little for does not
 * rule it out: such claims are left to the build as a whole, once the candidates are in it.
 */
function judgeable(
  claims: readonly ModelClaim[],
  system: System,
  candidates: readonly (readonly Candidate[])[],
): readonly ModelClaim[] {
  const first = candidates.map(([candidate]) => candidate?.givens ?? []);
  let left = claims;
  for (const [slot, list] of candidates.entries()) {
    for (const { givens } of list) {
      const picked = first.flatMap((each, at) => (at === slot ? givens : each));
      const changes = new Map(picked.map(({ variable, given }) => [variable, given]));
      const solution = solve(withGivens(system, changes));
      left = left.filter((claim) => verdictOf(solution, claim).nominal !== "unknown");
    }
  }
  return left;
}

interface Slot {
  readonly path: string;
  /** Candidates as the root file calls them. */
  readonly names: readonly string[];
}

function refused(problem: string): ChooseAnswer {
  return { choices: [], combinations: 0, candidates: [], complete: true, problem };
}

function slotsOf(
  analysis: Analysis,
  build: BuildFiles,
  request: ChooseRequest,
): readonly Slot[] | string {
  if (request.fields.length === 0) return "say which fields to fill, such as rear.wheel";
  const slots: Slot[] = [];
  for (const path of request.fields) {
    const at = path.lastIndexOf(".");
    const owner = at < 0 ? undefined : analysis.thingAt(path.slice(0, at));
    const field = owner?.field(path.slice(at + 1));
    if (owner === undefined || field === undefined) return `there is no field ${path}`;
    if (field.type.form !== "reference") return `${path} does not stand for a thing`;
    const names = namesOfKind(build.root.scope, field.type.kind, "");
    if (names.length === 0) return `there is no ${field.type.kind} to choose from for ${path}`;
    slots.push({ path, names });
  }
  return slots;
}

function namesOfKind(scope: FileScope, kind: string, prefix: string): string[] {
  const names: string[] = [];
  for (const [name, { node }] of scope.declarations) {
    const found = scope.vocabulary.kinds.get(node.kind.text);
    if (found?.lineage.includes(kind)) names.push(`${prefix}${name}`);
  }
  for (const [name, inside] of scope.namespaces) {
    names.push(...namesOfKind(inside, kind, `${prefix}${name}.`));
  }
  return names;
}

/** The part of the build around the fields, with stand-ins in them. */
function freedGroup(
  build: BuildFiles,
  context: GroupContext,
  slots: readonly Slot[],
): GroupResult | undefined {
  const lines = slots.map(({ path }) => `${path}: ?`).join("\n");
  const placed: Placed = { item: trialItem(lines), scope: build.root.scope };
  const group = groupsOf(build, [placed]).find(({ members }) => members.includes(placed));
  if (group === undefined) return undefined;
  return new GroupResult({ ...context, group, overlay: { is: "option", name: trialName } });
}

/** The candidates themselves, solved apart from the build. */
function shelvesOf(
  build: BuildFiles,
  context: GroupContext,
  slots: readonly Slot[],
): readonly GroupResult[] {
  const names = slots.flatMap((slot) => slot.names);
  const item = parseItem(`check "shelf": ${names.join(" == 0 and ")} == 0`);
  const placed: Placed = { item, scope: build.root.scope };
  const group = groupsOf(build, [placed]).find(({ members }) => members.includes(placed));
  if (group === undefined) return [];
  const members = group.members.filter((member) => member.declaration !== undefined);
  const shelf = { members, hasUnknownNames: group.hasUnknownNames };
  return [new GroupResult({ ...context, group: shelf, overlay: { is: "spec" } })];
}

function candidateOf(
  shelves: readonly GroupResult[],
  name: string,
  freed: GroupResult,
  slot: Slot,
  extra: number | undefined,
  by: string | undefined,
): Candidate {
  const givens: { variable: number; given: GivenNumber }[] = [];
  const prefix = `${slot.path}.`;
  const figure = (path: string): GivenNumber | undefined => {
    for (const shelf of shelves) {
      const value = shelf.valueAt(path);
      if (value?.si === undefined) continue;
      const spread = value.spread();
      return {
        value: value.si,
        low: value.si - (spread?.worstBelow ?? 0),
        high: value.si + (spread?.worstAbove ?? 0),
        rounding: 0,
      };
    }
    return undefined;
  };
  for (const [variable, { name: path }] of freed.model.variables.entries()) {
    if (!path.startsWith(prefix)) continue;
    const given = figure(`${name}.${path.slice(prefix.length)}`);
    if (given !== undefined) givens.push({ variable, given });
  }
  if (extra !== undefined && by !== undefined) {
    const given = figure(`${name}.${by}`);
    if (given !== undefined) givens.push({ variable: extra, given });
  }
  return { givens };
}

interface Objective {
  readonly quantity: Quantity;
  readonly measure?: ChooseAnswer["measure"];
  /** One further variable for each slot, holding the field of its candidate. */
  readonly extra?: readonly number[];
}

function objectiveOf(
  by: string | undefined,
  freed: GroupResult,
  variables: Variable[],
  slots: readonly Slot[],
): Objective | undefined | string {
  if (by === undefined) return undefined;
  if (by.includes(".")) {
    const index = freed.model.variableAt(by);
    const measure = index === undefined ? undefined : freed.model.variables[index]?.measure;
    if (index === undefined) return `there is no figure ${by} to be sparing with`;
    return { quantity: { expression: { op: "slot", index: 0 }, variables: [index] }, measure };
  }
  const things = slots.map(({ path }) => standIn(freed, path));
  const fields = things.map((thing) => thing?.field(by));
  const type = fields.find((field) => field !== undefined)?.type;
  if (type?.form !== "measure") return `these things have no figure ${by}`;
  const extra = slots.map((slot) => {
    variables.push({ name: `${slot.path} ${by}`, scale: type.measure.scale, askedFirst: false });
    return variables.length - 1;
  });
  const sum = extra
    .map((_, index) => ({ op: "slot", index }) as const)
    .reduce<Quantity["expression"]>((left, right) => ({ op: "add", left, right }), {
      op: "number",
      value: 0,
    });
  return { quantity: { expression: sum, variables: extra }, measure: type.measure, extra };
}

function standIn(freed: GroupResult, path: string): Thing | undefined {
  return freed.model.things.find((thing) => thing.path === path);
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
): ChosenThings | undefined {
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
