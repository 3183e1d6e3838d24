/**
 * What a choice is to come to: a figure of the build, or a figure that the things themselves have,
 * added up; as little or as much of it as can be.
 *
 * Must not know: how combinations are searched.
 */
import type { FigureId } from "../names/ids";
import type { Candidate } from "../solve/choose";
import type { Expression } from "../solve/expression";
import type { GivenNumber, Quantity, System, Variable } from "../solve/system";
import type { Measure } from "../units";
import type { Analysis } from "./analysis";
import type { BuildAnalysis } from "./build-analysis";
import type { ChooseRequest } from "./choose-request";
import { type Around, type FieldToFill, givenOf } from "./choose-slots";
import { FigureValue } from "./figure-value";

export interface Aim {
  readonly path: string;
  readonly most: boolean;
  readonly measure: Measure | undefined;
  /** A figure of the build; without one, a field of the things. */
  readonly figure?: FigureId;
  /** The slots whose things have the field. */
  readonly slots: readonly number[];
  /** Amounts of money are added up in one currency: that of most of the things. */
  readonly currency?: string;
}

/** The aims of a request, or what is wrong with them. */
export function aimsOf(
  { least = [], most = [] }: ChooseRequest,
  freed: BuildAnalysis,
  shelves: BuildAnalysis,
  slots: readonly FieldToFill[],
): readonly Aim[] | string {
  const aims: Aim[] = [];
  for (const [path, isMost] of [
    ...least.map((each) => [each, false] as const),
    ...most.map((each) => [each, true] as const),
  ]) {
    const aim = aimOf(path, isMost, freed, shelves, slots);
    if (typeof aim === "string") return aim;
    aims.push(aim);
  }
  return aims;
}

function aimOf(
  path: string,
  most: boolean,
  freed: BuildAnalysis,
  shelves: BuildAnalysis,
  slots: readonly FieldToFill[],
): Aim | string {
  if (path.includes(".")) {
    const value = freed.valueAt(path);
    if (!(value instanceof FigureValue)) {
      return `there is no figure ${path} to ${most ? "make the most of" : "be sparing with"}`;
    }
    return { path, most, figure: value.id, measure: value.measure, slots: [] };
  }
  const own = slots.flatMap((slot, number) => {
    const type = freed.thingAt(slot.path)?.field(path)?.type;
    return type?.form === "measure" ? [{ number, measure: type.measure }] : [];
  });
  const [first] = own;
  if (first === undefined) return `these things have no figure ${path}`;
  const numbers = own.map(({ number }) => number);
  const currency = commonest(
    numbers.flatMap((number) =>
      (slots[number]?.names ?? []).flatMap((name) => currencyOf(shelves, `${name}.${path}`) ?? []),
    ),
  );
  return {
    path,
    most,
    measure: first.measure,
    slots: numbers,
    ...(currency === undefined ? {} : { currency }),
  };
}

/** Why a thing says too little for an aim: it has no such figure, or has it in another currency. */
export function gapOf(aim: Aim, shelves: Analysis, name: string): string | undefined {
  const path = `${name}.${aim.path}`;
  const value = shelves.valueAt(path);
  if (value?.si === undefined) return `${path} is missing`;
  const currency = currencyOf(shelves, path);
  return aim.currency === undefined || currency === aim.currency
    ? undefined
    : `${path} is in ${currency}, the others in ${aim.currency}`;
}

/** The system to choose in; with a variable for each slot and field that is added up. */
export class AimPlaces {
  readonly system: System;
  readonly quantities: readonly Quantity[];
  private readonly places = new Map<string, number>();

  constructor(
    private readonly aims: readonly Aim[],
    { cell }: Around,
    slots: readonly FieldToFill[],
  ) {
    const { variables: own, equations } = cell.solution.system;
    const variables: Variable[] = [...own];
    this.quantities = aims.map((aim): Quantity => {
      if (aim.figure !== undefined) {
        return signed(aim, { op: "slot", index: 0 }, [cell.placeOf(aim.figure) ?? -1]);
      }
      const places = aim.slots.map((slot) => {
        const scale = aim.measure?.scale ?? 1;
        variables.push({ name: `${slots[slot]?.path} ${aim.path}`, scale, askedFirst: false });
        this.places.set(`${slot} ${aim.path}`, variables.length - 1);
        return variables.length - 1;
      });
      const sum = places
        .map((_, index): Expression => ({ op: "slot", index }))
        .reduce((left, right): Expression => ({ op: "add", left, right }));
      return signed(aim, sum, places);
    });
    this.system = { variables, equations };
  }

  /** The candidate with what so many of it add to the aims. */
  with(
    candidate: Candidate,
    slot: number,
    name: string,
    bought: number,
    shelves: BuildAnalysis,
  ): Candidate {
    const givens = [...candidate.givens];
    for (const aim of this.aims) {
      const variable = this.places.get(`${slot} ${aim.path}`);
      if (variable === undefined || gapOf(aim, shelves, name) !== undefined) continue;
      const given = givenOf(shelves, `${name}.${aim.path}`);
      if (given !== undefined) givens.push({ variable, given: timesOf(given, bought) });
    }
    return { givens };
  }
}

/** What an aim comes to, from what was made as small as possible. */
export function reached({ most }: Aim, least: number | undefined): number | undefined {
  return least === undefined || !most ? least : -least + 0;
}

// ───────────────────────────── helpers ─────────────────────────────

function signed({ most }: Aim, expression: Expression, variables: readonly number[]): Quantity {
  return { expression: most ? { op: "negate", of: expression } : expression, variables };
}

function currencyOf(analysis: Analysis, path: string): string | undefined {
  return analysis.valueAt(path)?.currency?.toUpperCase();
}

function commonest(names: readonly string[]): string | undefined {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return [...counts].sort(
    ([one, times], [other, otherTimes]) => otherTimes - times || (one < other ? -1 : 1),
  )[0]?.[0];
}

function timesOf({ value, low, high, rounding }: GivenNumber, count: number): GivenNumber {
  return { value: value * count, low: low * count, high: high * count, rounding: rounding * count };
}
