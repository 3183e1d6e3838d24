/**
 * Finds, among the things of a kind in scope (a shop's list of wheels, tires, housings), those
 * that fit a build together: every check holds, and what is aimed at is least or most.
 *
 *     await analysis.choose({ fields: ["rear.wheel", "rear.tire"], least: ["price"] })
 *
 * The fields are freed, so that a stand-in takes their place whose figures are those of each
 * candidate in turn; the solver searches the combinations. What it finds is then put into the
 * build in earnest and kept only where no finding of it is an error; what falls through there is
 * searched past. Where nothing fits, those that come nearest are told with what is wrong with them.
 *
 * Must not know: which kinds there are.
 */

import { parseItem } from "../../grammar/parser";
import type { Finding } from "../findings/finding";
import { timeIsUp } from "../keep/patience";
import { bestOf } from "../solve";
import type { ChoiceControl } from "../solve/choose";
import type { Analysis } from "./analysis";
import type { BuildAnalysis } from "./build-analysis";
import { type Aim, aimsOf, gapOf, reached } from "./choose-aims";
import { type Quantities, quantitiesOf } from "./choose-quantities";
import type { ChooseAnswer, ChooseRequest, ChosenThings, ThingsPassedOver } from "./choose-request";
import { type FieldToFill, freedBy, freeing, slotsOf, sortsOf } from "./choose-slots";
import { type FoundChoice, SortSearch } from "./sort-search";

/** So often what fell through in earnest is searched past. */
const ROUNDS = 12;
/** So many that do not fit are told. */
const NEAREST = 3;

const nothing = { expression: { op: "number", value: 0 }, variables: [] } as const;

export async function chooseThings(
  analysis: BuildAnalysis,
  request: ChooseRequest,
  control: ChoiceControl,
): Promise<ChooseAnswer> {
  const { patience } = analysis.reading.workshop;
  const slots = slotsOf(analysis, request);
  if (typeof slots === "string") return refused(slots);
  const freed = freedBy(analysis, freeing(slots));
  const shelves = shelvesOf(analysis, slots);
  const aims = aimsOf(request, freed, shelves, slots);
  if (typeof aims === "string") return refused(aims);
  const counts = quantitiesOf(request, freed, shelves, slots);
  if (typeof counts === "string") return refused(counts);
  const tryout = new Tryout(analysis, slots, aims, shelves, counts);
  const why = request.why === undefined ? undefined : tryout.passedOver(request.why);
  if (typeof why === "string") return refused(why);
  const searches = sortsOf(shelves, slots).map(
    (sort) => new SortSearch(analysis, shelves, slots, aims, counts, sort),
  );
  const judged = new Set(searches.flatMap((search) => search.judged));
  const keep = request.keep ?? 5;
  let best: readonly FoundChoice[] = [];
  let complete = true;
  const fallen = new Map<string, ThingsPassedOver>();
  for (let round = 0; round < ROUNDS; round++) {
    best = [];
    complete = true;
    for (const [number, search] of searches.entries()) {
      const share = (own: number): void => control.progress?.((number + own) / searches.length);
      const one = await search.run(keep * 4, judged, (picks) => !fallen.has(picks.join()), {
        ...control,
        progress: share,
      });
      best = [...best, ...one.found];
      complete &&= one.complete;
      if (!one.complete) break;
    }
    const places = { aims: aims.map(() => nothing), keep: keep * 4 };
    best = bestOf(best, places) as readonly FoundChoice[];
    // Those that come first are tried in earnest; all of a front are.
    const before = fallen.size;
    for (const { picks } of aims.length > 1 ? best : best.slice(0, keep)) {
      const tried = tryout.tried(picks);
      // What there was no time to look through may not fit either.
      if (timeIsUp(patience)) {
        best = best.slice(
          0,
          best.findIndex((each) => each.picks === picks),
        );
        complete = false;
        break;
      }
      if (tried.problems.length > 0) fallen.set(picks.join(), tried);
    }
    if (fallen.size === before || !complete) break;
    // What comes next has not been tried in earnest any more.
    if (round === ROUNDS - 1) complete = false;
  }
  const fitting = best.filter(({ picks }) => !fallen.has(picks.join()));
  const shown = aims.length > 1 && request.keep === undefined ? fitting : fitting.slice(0, keep);
  const blocking = fitting.length > 0 ? undefined : blockingOf(searches);
  const short = [...new Set(searches.flatMap((search) => search.short))];
  return {
    choices: shown.map((choice) => tryout.chosen(choice)),
    aims: aims.map(({ path, most, measure, currency }) => ({ path, most, measure, currency })),
    combinations: slots.reduce((product, slot) => product * slot.names.length, 1),
    candidates: slots.map((slot) => ({ field: slot.path, things: slot.names })),
    nearest:
      fitting.length > 0 || timeIsUp(patience)
        ? []
        : tryout.nearest([...fallen.values()], searches),
    ...(blocking === undefined ? {} : { blocking }),
    ...(fitting.length > 0 || short.length === 0 ? {} : { short }),
    ...(why === undefined ? {} : { passedOver: why }),
    complete,
  };
}

/** The check that rules out most, over all sorts. */
function blockingOf(searches: readonly SortSearch[]): string | undefined {
  const counts = new Map<string, number>();
  for (const { claims, ruledOut } of searches) {
    for (const [number, count] of ruledOut.entries()) {
      const title = claims[number]?.title;
      if (title !== undefined) counts.set(title, (counts.get(title) ?? 0) + count);
    }
  }
  const [most] = [...counts].sort(([, one], [, other]) => other - one);
  return most === undefined || most[1] === 0 ? undefined : most[0];
}

// ───────────────────────────── in earnest ─────────────────────────────

/** Puts picks into the build and reads it whole. */
class Tryout {
  private readonly known: {
    readonly kept: ReadonlySet<Finding>;
    readonly said: ReadonlySet<string>;
  };

  constructor(
    private readonly analysis: BuildAnalysis,
    private readonly slots: readonly FieldToFill[],
    private readonly aims: readonly Aim[],
    private readonly shelves: BuildAnalysis,
    private readonly counts: Quantities,
  ) {
    this.known = {
      kept: new Set(analysis.findingsSoFar),
      said: new Set(analysis.findingsSoFar.map(inPlace)),
    };
  }

  private readonly trials = new Map<string, Analysis>();

  private analysisWith(picks: readonly number[]): Analysis {
    const key = picks.join();
    let tried = this.trials.get(key);
    if (tried === undefined) {
      const lines = picks.map(
        (pick, slot) => `${this.slots[slot]?.path}: ${this.nameOf(slot, pick)}`,
      );
      tried = this.analysis.trying(lines.join("\n"));
      this.trials.set(key, tried);
    }
    return tried;
  }

  private nameOf(slot: number, pick: number): string {
    return this.slots[slot]?.names[pick] ?? "";
  }

  private picksIn(picks: readonly number[], tried: Analysis): ChosenThings["picks"] {
    return picks.map((pick, slot) => {
      const thing = this.nameOf(slot, pick);
      const title = tried.thingAt(thing)?.title;
      return {
        field: this.slots[slot]?.path ?? "",
        thing,
        ...(title === undefined ? {} : { title }),
      };
    });
  }

  chosen(choice: FoundChoice): ChosenThings {
    const tried = this.analysisWith(choice.picks);
    return {
      picks: this.picksIn(choice.picks, tried),
      aims: this.aims.map((aim, at) => reached(aim, choice.aims[at])),
      unjudged: choice.open,
      gaps: this.gapsOf(choice.picks),
      analysis: tried,
    };
  }

  private gapsOf(picks: readonly number[]): string[] {
    return this.aims.flatMap((aim) =>
      aim.slots.flatMap((slot) => {
        const pick = picks[slot];
        return pick === undefined ? [] : (gapOf(aim, this.shelves, this.nameOf(slot, pick)) ?? []);
      }),
    );
  }

  /** No check fails, and nothing is wrong that was not wrong before; other things have their own faults. */
  tried(picks: readonly number[]): ThingsPassedOver {
    const tried = this.analysisWith(picks);
    const ofChecks = new Set<string>(tried.checks.map(({ code }) => code));
    const problems = tried.findingsSoFar.filter((finding) => {
      if (finding.severity !== "error" || this.known.kept.has(finding)) return false;
      return ofChecks.has(finding.code) || !this.known.said.has(inPlace(finding));
    });
    return {
      picks: this.picksIn(picks, tried),
      problems: [...this.tooFew(picks), ...new Set(problems.map(({ message }) => message))],
      aims: this.aims.map((aim) => this.sumOf(aim, picks, tried)),
      gaps: this.gapsOf(picks),
    };
  }

  private tooFew(picks: readonly number[]): string[] {
    const taken = new Map<string, number>();
    for (const [slot, pick] of picks.entries()) {
      const name = this.nameOf(slot, pick);
      taken.set(name, (taken.get(name) ?? 0) + this.counts.takes(slot));
    }
    return [...taken].flatMap(([name, count]) => {
      const there = this.counts.pieces(name);
      return there === undefined || count <= there
        ? []
        : `${name} is taken ${count} ${count === 1 ? "time" : "times"}, and there ${there === 1 ? "is" : "are"} ${there}`;
    });
  }

  private sumOf(aim: Aim, picks: readonly number[], tried: Analysis): number | undefined {
    if (aim.figure !== undefined) return tried.valueAt(aim.path)?.si;
    let sum = 0;
    for (const slot of aim.slots) {
      const name = this.nameOf(slot, picks[slot] ?? -1);
      const si = this.shelves.valueAt(`${name}.${aim.path}`)?.si;
      if (si === undefined || gapOf(aim, this.shelves, name) !== undefined) return undefined;
      sum += si * this.counts.bought(slot, name);
    }
    return sum;
  }

  /** What is wrong with a combination that somebody asks about, or what is wrong with the question. */
  passedOver(names: readonly string[]): ThingsPassedOver | string {
    if (names.length !== this.slots.length) {
      const fields = this.slots.map(({ path }) => path).join(" and ");
      return `say one thing for each field, in their order: ${fields}`;
    }
    const picks: number[] = [];
    for (const [slot, name] of names.entries()) {
      const pick = this.slots[slot]?.names.indexOf(name) ?? -1;
      if (pick < 0) return `${name} is none of those to choose from for ${this.slots[slot]?.path}`;
      picks.push(pick);
    }
    return this.tried(picks);
  }

  /** Combinations that do not fit and come nearest: those that only fell through in earnest first. */
  nearest(
    fallen: readonly ThingsPassedOver[],
    searches: readonly SortSearch[],
  ): readonly ThingsPassedOver[] {
    const misses = searches
      .flatMap(({ nearest }) => nearest)
      .sort(
        (one, other) =>
          one.failing.length - other.failing.length || one.shortfall - other.shortfall,
      );
    const all = [...fallen];
    for (const { picks } of misses) {
      if (all.length >= NEAREST) break;
      all.push(this.tried(picks));
    }
    return all.slice(0, NEAREST);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** All things that may be picked, with figures that nothing in the build may speak of. */
function shelvesOf(analysis: BuildAnalysis, slots: readonly FieldToFill[]): BuildAnalysis {
  const names = slots.flatMap((slot) => slot.names);
  const item = parseItem(`check "shelf": ${names.join(" == 0 and ")} == 0`);
  return analysis.with({ is: "lines", item, uri: analysis.rootUri });
}

function refused(problem: string): ChooseAnswer {
  return {
    choices: [],
    aims: [],
    combinations: 0,
    candidates: [],
    nearest: [],
    complete: true,
    problem,
  };
}

function inPlace({ code, message, anchor }: Finding): string {
  return `${code} ${anchor.uri} ${anchor.item.text} ${anchor.span.start} ${message}`;
}
