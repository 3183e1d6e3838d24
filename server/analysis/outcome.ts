/**
 * How a figure comes out, and what was wanted of it.
 *
 *     outcomeOfFigure(reading, gap)   →   { si: 0.0221, worst: 0.004, rss: 0.002, … }
 *
 * Must not know: how anything is worded or shown.
 */

import { textAt } from "../../grammar/anchor";
import { once } from "../keep/once";
import { inTime } from "../keep/patience";
import type { ModelVariable } from "../model/model";
import { nominalAnchor } from "../model/thing";
import type { FigureId } from "../names/ids";
import {
  answerOnceKnown,
  answersOf,
  asMade,
  isMadeAside,
  makingOff,
  type Spread,
  sensitivities,
  sharesStep,
  spreadOf,
  wishOf,
} from "../solve";
import type { Solution } from "../solve/system";
import type { Contributor, Outcome, Wanted } from "./analysis";
import type { BuildCell } from "./build-cells";
import type { Reading } from "./reading";
import { SolvedCell } from "./reasons";

/** Nothing where the figure is open. */
export function outcomeOfFigure(reading: Reading, about: ModelVariable): Outcome | undefined {
  const { id, variable } = about;
  const { cells } = reading;
  const solved = cells.solvedFor([id], "outcome");
  const { solution } = solved;
  const place = solved.placeOf(id) ?? -1;
  const value = solution.values[place];
  if (value === undefined || !Number.isFinite(value)) return undefined;
  const { role, making, given } = variable;
  // What is made and follows from others is made to its step all the same; made or given, it is no
  // surer than its making.
  const own = cells.cellOf(id);
  const at = own?.placeOf(id);
  const core = at === undefined ? undefined : own?.core.outcome;
  const isThere = (each: number): boolean => own !== undefined && isBuilt(reading, own, each);
  const made = role === "made" && making !== undefined && !(at !== undefined && isThere(at));
  const si = core !== undefined && at !== undefined ? asMade(core, at, isThere) : value;
  const said = given !== undefined && given.high > given.low;
  const least = made && !said ? makingOff(making, value) : 0;
  // Most who ask how it comes out do not ask how surely.
  const limits = once(() => {
    const quantity = { expression: { op: "slot", index: 0 }, variables: [place] } as const;
    const spread = inTime(() => spreadOf(solution, quantity), undefined);
    const below = Math.max(spread?.worstBelow ?? 0, least);
    const above = Math.max(spread?.worstAbove ?? 0, least);
    return { spread, below, above };
  });
  return {
    si,
    get spread() {
      return limits().spread;
    },
    get worst() {
      return Math.max(limits().below, limits().above);
    },
    get rss() {
      return Math.max(limits().spread?.rss ?? 0, least);
    },
    get shift() {
      const { spread } = limits();
      return (spread?.rss ?? 0) < least ? 0 : (spread?.shift ?? 0);
    },
    get low() {
      return si - limits().below;
    },
    get high() {
      return si + limits().above;
    },
    made,
    turned: own?.core.system.variables[at ?? -1]?.making?.turned === true,
    shared: core !== undefined && at !== undefined && sharesStep(core, at),
    ...(made ? usuallyMade(about, least) : {}),
    get answers() {
      return answersOfFigure(reading, id);
    },
    contributors: () => contributorsOf(limits().spread, new SolvedCell(reading, solved)),
  };
}

/** As built: what is made, answers no wish and follows from what was read is there already. */
function isBuilt(reading: Reading, cell: BuildCell, place: number): boolean {
  const { outcome } = cell.core;
  if (!reading.isAsBuilt || !isMadeAside(outcome, place)) return false;
  const quantity = { expression: { op: "slot", index: 0 }, variables: [place] } as const;
  const solved = new SolvedCell(reading, cell);
  return [...sensitivities(outcome, quantity)].some(
    ([other, slope]) => slope !== 0 && solved.figureAt(other)?.entry?.layer === "record",
  );
}

/** As the library says how it is made, unless the build or the shop does. */
function usuallyMade(
  { entry, thing, id, madeBy, variable }: ModelVariable,
  off: number,
): Pick<Outcome, "usually"> {
  const said = entry ?? thing.asked.get(id.key);
  const { step } = variable.making ?? {};
  const isSaid = said?.step !== undefined || said?.tolerance !== undefined;
  if (madeBy !== undefined || isSaid || !(off > 0)) return {};
  return { usually: { off, ...(step === undefined ? {} : { step }) } };
}

/** Shares below this are none to anyone. */
const leastTold = 0.0005;

/** What the parts of a spread come from: figures by path, assumed relations by title. */
export function contributorsOf(spread: Spread | undefined, solved: SolvedCell): Contributor[] {
  return (spread?.contributors ?? []).flatMap(({ variable, below, above, share }) => {
    const path = solved.figureAt(variable)?.name ?? looseBy(variable, solved);
    // Beside what has no limit, nothing else counts.
    const part = Number.isFinite(share)
      ? share
      : Number(below === above && !Number.isFinite(above));
    return path === undefined || part < leastTold ? [] : [{ path, below, above, share: part }];
  });
}

/** What an equation that holds to within its own ± is about. */
function looseBy(variable: number, solved: SolvedCell): string | undefined {
  const { equations } = solved.solution.system;
  const loose = equations.findIndex(({ variables }) => variables.includes(variable));
  const { origin, equation } = solved.equationAt(loose) ?? {};
  if (origin?.is === "relation") return origin.relation.title;
  const figure = equation?.figures.at(-1);
  return figure && solved.figureAt(solved.placeOf(figure) ?? -1)?.name;
}

const answered = new WeakMap<Solution, ReturnType<typeof answersOf>>();

/** Wishes a made figure answers: of a wish that joins several, the first of them. */
function answersOfFigure(reading: Reading, id: FigureId): string[] {
  const cell = reading.cells.cellOf(id);
  if (cell === undefined) return [];
  const { core } = cell;
  let answers = answered.get(core.outcome);
  if (answers === undefined) {
    answers = answersOf(core.solution, core.outcome);
    answered.set(core.outcome, answers);
  }
  const solved = new SolvedCell(reading, cell);
  const wishes = answers.get(cell.placeOf(id) ?? -1) ?? [];
  return wishes.flatMap((equation) => {
    const [first = -1] = core.solution.system.equations[equation]?.variables ?? [];
    return solved.figureAt(first)?.name ?? [];
  });
}

/** What is written of a figure that is wanted and no more. */
export function wantedOf(reading: Reading, about: ModelVariable): Wanted | undefined {
  const { id, variable, figure, entry } = about;
  const { wish } = variable;
  if (wish === undefined || figure === undefined) return undefined;
  const cell = reading.cells.cellOf(id);
  if (cell === undefined) return undefined;
  const place = cell.placeOf(id) ?? -1;
  const near = (value: number | undefined): boolean =>
    value !== undefined &&
    Math.abs(value - wish.value) <= 1e-9 * Math.max(Math.abs(wish.value), variable.scale);
  return {
    si: wish.value,
    low: wish.low,
    high: wish.high,
    toleranced: figure.toleranced,
    get written() {
      const anchor = entry === undefined ? undefined : nominalAnchor(entry);
      return anchor === undefined ? undefined : textAt(anchor).replaceAll(/\s+/g, " ");
    },
    met: near(cell.solution.values[place]),
    get held() {
      const { outcome } = cell.core;
      // What is made may come out to the last digit, too.
      return near(outcome.values[place]) && wishOf(outcome, place) !== undefined;
    },
    get awaits() {
      const found = this.held
        ? inTime(() => answerOnceKnown(cell.solution, place), undefined)
        : undefined;
      if (found === undefined) return undefined;
      const solved = new SolvedCell(reading, cell);
      const [made, ...open] = [found.made, ...found.open].map((at) => solved.figureAt(at)?.name);
      return made === undefined
        ? undefined
        : { made, open: open.filter((each) => each !== undefined) };
    },
  };
}
