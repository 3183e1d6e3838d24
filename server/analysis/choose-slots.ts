/**
 * What there is to choose from: the fields to fill, the things that could fill them, and the figures of
 * each as the solver is to see them.
 *
 * A stand-in takes the place of what is to be chosen. Things that differ in what formulas ask of them
 * beside their figures (their words, which figures are written) leave different equations; each such
 * sort has a stand-in of its own.
 *
 * Must not know: which kinds there are, how combinations are searched.
 */
import { namesOfKind } from "../model/references";
import type { Thing } from "../model/thing";
import { readWord } from "../model/words";
import type { FigureId } from "../names/ids";
import { solve, verdictOf, withGivens } from "../solve";
import type { Candidate } from "../solve/choose";
import type { Claim, GivenNumber, System } from "../solve/system";
import type { BuildAnalysis } from "./build-analysis";
import type { BuildCell } from "./build-cells";
import type { ChooseRequest } from "./choose-request";
import { trialItem } from "./overlay";

export interface FieldToFill {
  readonly path: string;
  /** The kind of thing its field asks for. */
  readonly kind: string;
  /** Candidates as the root file calls them. */
  readonly names: readonly string[];
}

/** More sorts of combinations than this are not told apart before they are tried in earnest. */
const MOST_SORTS = 24;

export function slotsOf(
  analysis: BuildAnalysis,
  request: ChooseRequest,
): readonly FieldToFill[] | string {
  if (request.fields.length === 0) return "say which fields to fill, such as rear.wheel";
  const slots: FieldToFill[] = [];
  for (const path of request.fields) {
    const at = path.lastIndexOf(".");
    const owner = at < 0 ? undefined : analysis.thingAt(path.slice(0, at));
    const field = owner?.field(path.slice(at + 1));
    if (owner === undefined || field === undefined) return `there is no field ${path}`;
    if (field.type.form !== "reference") return `${path} does not stand for a thing`;
    const names = namesOfKind(
      analysis.vocabulary,
      analysis.reading.build.root.scope,
      field.type.kind,
    );
    if (names.length === 0) return `there is no ${field.type.kind} to choose from for ${path}`;
    slots.push({ path, kind: field.type.kind, names });
  }
  return slots;
}

/** Some candidates of each slot, and the lines that free the slots for them. */
export interface Sort {
  readonly lines: string;
  /** For each slot the numbers of the candidates. */
  readonly members: readonly (readonly number[])[];
  /** For each slot where its stand-in is found. */
  readonly places: readonly string[];
}

export function freeing(slots: readonly FieldToFill[]): string {
  return slots.map(({ path }) => `${path}: ?`).join("\n");
}

/** Combinations by what their things are beside their figures. */
export function sortsOf(shelves: BuildAnalysis, slots: readonly FieldToFill[]): readonly Sort[] {
  for (const asked of [fieldsAskedAbout(shelves), new Set<string>()]) {
    let sorts: readonly Sort[] = [{ lines: "", members: [], places: [] }];
    for (const [number, slot] of slots.entries()) {
      const own = ownSorts(shelves, slot, number, asked);
      sorts = sorts.flatMap((sort) =>
        own.map(({ members, lines, place }) => ({
          lines: `${sort.lines}\n${lines}`,
          members: [...sort.members, members],
          places: [...sort.places, place],
        })),
      );
      if (sorts.length > MOST_SORTS) break;
    }
    if (sorts.length <= MOST_SORTS) return sorts;
  }
  const members = slots.map(({ names }) => [...names.keys()]);
  return [{ lines: freeing(slots), members, places: slots.map(({ path }) => path) }];
}

interface OwnSort {
  readonly lines: string;
  readonly members: readonly number[];
  readonly place: string;
}

function ownSorts(
  shelves: BuildAnalysis,
  slot: FieldToFill,
  number: number,
  asked: ReadonlySet<string>,
): OwnSort[] {
  const sorts = new Map<string, number[]>();
  const things = slot.names.map((name) => shelves.thingAt(name));
  for (const [at, thing] of things.entries()) {
    const own = thing === undefined ? [] : linesOf(shelves, "", thing, asked);
    const key = [thing?.kind.name ?? "", ...own.map(({ field, word }) => `${field}: ${word}`)];
    const known = sorts.get(key.join("\n"));
    if (known === undefined) sorts.set(key.join("\n"), [at]);
    else known.push(at);
  }
  return [...sorts.values()].map((members): OwnSort => {
    const [first = 0] = members;
    const thing = things[first];
    // A kind of its own has relations of its own: one of its things stands in, each slot has another.
    const own = members[number] ?? (members.length === 1 ? first : undefined);
    const like = own === undefined ? undefined : things[own];
    if (like !== undefined && own !== undefined && like.kind.name !== slot.kind) {
      const place = slot.names[own] ?? "";
      return {
        members,
        place,
        lines: [`${slot.path}: ${place}`, ...freed(like, place, asked)].join("\n"),
      };
    }
    const lines = thing === undefined ? [] : linesOf(shelves, slot.path, thing, asked);
    const all = [freeing([slot]), ...lines.map(({ line }) => line)];
    return { members, place: slot.path, lines: all.join("\n") };
  });
}

/** Lines that ask for the figures of a thing, those left out of which is asked whether they are written. */
function freed(thing: Thing, place: string, asked: ReadonlySet<string>): string[] {
  return [...thing.kind.fields.values()].flatMap(({ name, type }) =>
    type.form === "measure" && thing.entries.has(name) && !asked.has(name)
      ? [`${place}.${name}: ?`]
      : [],
  );
}

/** Fields of which some formula asks whether they are written: `given(wheel.spacer)`. */
function fieldsAskedAbout({ sources }: BuildAnalysis): ReadonlySet<string> {
  const fields = new Set<string>();
  for (const { items } of sources) {
    for (const { text } of items) {
      for (const [, field] of text.matchAll(/\bgiven\(\s*(?:\w+\s*\.\s*)*(\w+)\s*\)/g)) {
        if (field !== undefined) fields.add(field);
      }
    }
  }
  return fields;
}

/** What a thing is beside its figures, as lines about the stand-in. */
function linesOf(
  shelves: BuildAnalysis,
  path: string,
  thing: Thing,
  asked: ReadonlySet<string>,
): { readonly line: string; readonly field: string; readonly word: string }[] {
  return [...thing.kind.fields.values()].flatMap(({ name, type, ...field }) => {
    if (!thing.entries.has(name)) return [];
    if (type.form === "measure") {
      const value = asked.has(name) ? shelves.valueAt(`${thing.path}.${name}`) : undefined;
      if (value?.si === undefined) return [];
      // Things whose figures differ are of one sort: of these it counts that they are written.
      return [{ line: `${path}.${name}: ${shelves.write(value)}`, field: name, word: "" }];
    }
    if (type.form !== "choice" && type.form !== "yes_no") return [];
    // Texts are most often names: a formula that reads one is met when the thing is tried in earnest.
    const { value } = readWord(thing, { name, type, ...field });
    if (value === undefined) return [];
    const word = value === true ? "yes" : value || "no";
    return [{ line: `${path}.${name}: ${word}`, field: name, word }];
  });
}

export interface PlacedClaim extends Claim {
  readonly title: string;
}

/** What hangs together with the freed fields: one system, and the claims to hold in it. */
export interface Around {
  readonly cell: BuildCell;
  /** By the path of each stand-in's figure, as the build calls it. */
  readonly figures: ReadonlyMap<string, FigureId>;
  readonly claims: readonly PlacedClaim[];
}

export function surroundings(
  { reading }: BuildAnalysis,
  places: readonly string[],
  aims: readonly FigureId[],
): Around {
  const { cells } = reading;
  const figures = new Map<string, FigureId>();
  for (const { row } of reading.rows) {
    for (const figure of row.figures) {
      const path = reading.figure(figure)?.name ?? "";
      if (places.some((place) => path.startsWith(`${place}.`))) figures.set(path, figure);
    }
  }
  const wanted = new Set(figures.values());
  const near = new Set<BuildCell>();
  for (const { row } of reading.rows) {
    for (const { equation } of row.equations) {
      // What stands for a written figure is given, and may lead into any number of cells.
      if (!equation.figures.some((figure) => wanted.has(figure))) continue;
      const cell = cells.cellOfEquation(equation);
      if (cell !== undefined) near.add(cell);
    }
  }
  for (const { keys } of near) for (const key of keys) wanted.add(key);
  const touched = (figure: FigureId): boolean => {
    const cell = cells.cellOf(figure);
    return wanted.has(figure) || (cell !== undefined && near.has(cell));
  };
  const claims = reading.rows
    .flatMap(({ row }) => row.claims)
    .filter((claim) => claim.applies && claim.figures.some(touched));
  for (const claim of claims) for (const figure of claim.figures) wanted.add(figure);
  for (const aim of aims) wanted.add(aim);
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
export function judgeable(
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

/** The figures of the stand-in, as the candidate has them. */
export function candidateOf(
  shelves: BuildAnalysis,
  name: string,
  { cell, figures }: Around,
  place: string,
  slot: FieldToFill,
): Candidate {
  const givens: { variable: number; given: GivenNumber }[] = [];
  const prefix = `${place}.`;
  const written = shelves.thingAt(name)?.entries;
  for (const [path, figure] of figures) {
    if (!path.startsWith(prefix)) continue;
    const own = path.slice(prefix.length);
    // Where one of the things stands in, its relations yield what is not written.
    if (place !== slot.path && written?.has(own.split(".")[0] ?? "") !== true) continue;
    const variable = cell.placeOf(figure);
    const given = givenOf(shelves, `${name}.${own}`);
    if (variable !== undefined && given !== undefined) givens.push({ variable, given });
  }
  return { givens };
}

/** A figure of a thing on the shelf with its limits. */
export function givenOf(shelves: BuildAnalysis, path: string): GivenNumber | undefined {
  const value = shelves.valueAt(path);
  if (value?.si === undefined) return undefined;
  const spread = value.spread();
  const low = value.si - (spread?.worstBelow ?? 0);
  const high = value.si + (spread?.worstAbove ?? 0);
  return { value: value.si, low, high, rounding: 0 };
}

export function freedBy(analysis: BuildAnalysis, lines: string): BuildAnalysis {
  return analysis.with({ is: "lines", item: trialItem(lines), uri: analysis.rootUri });
}
