/**
 * All that is found in a build, put together: its texts, its rows, its records, its options, and what
 * rooms above look through. What is missing is told at once, what would settle it as it is worked out.
 *
 * Must not know: how any of it is found in one row.
 */

import type { Finding } from "../findings/finding";
import { missingInWords } from "../findings/outcomes";
import { type Found, ofOption } from "../findings/worded";
import type { Writer } from "../findings/writer";
import { pause, TakenBack, TimeUp, timeIsUp, wasCutShort } from "../keep/patience";
import type { ModelVariable } from "../model/model";
import type { FigureId } from "../names/ids";
import type { Contradiction, MissingValue, Value } from "./analysis";
import type { FurtherFindings } from "./analysis-parts";
import type { Asked } from "./asked";
import type { BuildAnalysis } from "./build-analysis";
import type { BuildCell } from "./build-cells";
import { FigureValue } from "./figure-value";
import { outOfRange } from "./looks";
import { outsideConflicts } from "./merge-conflicts";
import { misclosure } from "./misclosure";
import { whyMissing } from "./missing-findings";
import type { OptionView } from "./option-views";
import { figuresOnRecord, measurementOf } from "./records";
import { contextOf, failureIn, findingsIn, type OwnFindings } from "./row-findings";
import { sortFindings } from "./sorting";

export class BuildFindings {
  constructor(
    private readonly build: BuildAnalysis,
    private readonly parts: {
      readonly further: readonly FurtherFindings[];
      /** Of files and display, outside of all rows. */
      readonly outside: readonly Found[];
    },
  ) {}

  /** Of the same build where nothing but places in its texts is another. */
  movedTo(build: BuildAnalysis): BuildFindings {
    const moved = new BuildFindings(build, this.parts);
    for (const [name, value] of this.once) if (kept.has(name)) moved.once.set(name, value);
    return moved;
  }

  private readonly once = new Map<string, unknown>();

  private lazily<T>(name: string, make: () => T): T {
    if (!this.once.has(name)) this.once.set(name, make());
    return this.once.get(name) as T;
  }

  get missing(): readonly MissingValue[] {
    return this.lazily("missing", () =>
      this.build.results.flatMap((result) =>
        result
          .missing((value) => this.failureBehind(value))
          .map((open) => {
            const { needs, value, anchor } = open.asked;
            const message = missingInWords(whyMissing(open), this.build.writer);
            return { path: value.path, message, needs, anchor };
          }),
      ),
    );
  }

  get findings(): readonly Finding[] {
    return this.lazily("findings", () => {
      const { patience } = this.build.reading.workshop;
      for (const _ of this.advising()) {
        pause(patience);
        if (!timeIsUp(patience)) continue;
        for (const { advised, anchor } of this.toAdvise)
          if (!advised) this.build.reading.leftOut.note("advice", anchor.uri, anchor.item);
        this.once.delete(soFar);
        break;
      }
      return this.findingsSoFar;
    });
  }

  get findingsSoFar(): readonly Finding[] {
    return this.lazily(soFar, () => {
      this.lacking = this.toAdvise.some(({ advised }) => !advised);
      const own = this.build.inWords([...this.ownFindings.list, ...this.ownFindings.missing()]);
      const said = new Set(own.map(inOneLine));
      const all = [
        ...this.aroundOwn,
        ...own,
        ...this.build.optionViews.flatMap((view) => this.newIn(view, said)),
      ];
      return sortFindings(
        outsideConflicts([...all, ...this.leftOut], this.build.reading.build.files),
        this.build,
      );
    });
  }

  *advising(): Generator<undefined> {
    for (const asked of this.toAdvise) {
      if (asked.advised) continue;
      asked.needs;
      yield;
    }
    // Somebody else may have asked for it before.
    if (!this.lacking) return;
    this.lacking = false;
    this.once.delete(soFar);
    yield;
  }

  get leftOut(): readonly Finding[] {
    const { leftOut, workshop } = this.build.reading;
    if (!wasCutShort(workshop.patience)) return [];
    for (const { cells, of } of this.build.results)
      for (const { core } of cells.keys())
        if (core.isCutShort) leftOut.note("figures", of.placed.file.uri, of.placed.item);
    const [item] = this.build.reading.build.root.source.items;
    if (leftOut.isEmpty && item !== undefined) leftOut.note("answers", this.build.rootUri, item);
    const found = leftOut.finding(workshop.patience.seconds);
    return found === undefined ? [] : this.build.inWords([found]);
  }

  /** Whether the findings so far were told without some advice. */
  private lacking = false;

  private get toAdvise(): readonly Asked[] {
    const inOptions = this.build.optionViews.flatMap(({ open }) => open);
    return [...this.build.open, ...this.ownFindings.open, ...inOptions];
  }

  get contradictions(): readonly Contradiction[] {
    return this.ownFindings.contradictions;
  }

  /** What is wrong with names and values, and for what failed why; options and records aside. */
  private get aroundOwn(): readonly Finding[] {
    return this.lazily("around own findings", () => [
      ...this.syntaxFindings(),
      ...this.build.inWords(this.parts.outside),
      ...this.lazily("misclosures", () => this.build.inWords(this.misclosures()).map(mildly)),
      ...this.lazily("unusual readings", () => this.build.inWords(this.unusualReadings())),
      ...this.furtherFindings(),
    ]);
  }

  private get ownFindings(): OwnFindings {
    return this.lazily("own findings", () =>
      findingsIn(this.build, this.build.results, this.build.reading.findings),
    );
  }

  /** Why a value that should have come out did not. */
  private failureBehind(value: Value): Found | undefined {
    return failureIn(this.ownFindings.failures)(value);
  }

  /** What goes wrong with an option and not without it. */
  private newIn(view: OptionView, said: ReadonlySet<string>): Finding[] {
    return this.wordsOf(view).flatMap(({ line, told }) => (said.has(line) ? [] : told));
  }

  /** Worded once for as long as the option says the same, where no advice is to come. */
  private wordsOf(view: OptionView): readonly OfOption[] {
    const { writer } = this.build;
    const { findings, open, missing, option } = view;
    const before = wordsKept.get(view);
    if (before?.writer === writer) return before.words;
    const words = this.build
      .inWords([...findings, ...missing()])
      .map((finding) => ({ line: inOneLine(finding), told: ofOption(finding, option) }));
    if (open.length === 0) wordsKept.set(view, { writer, words });
    return words;
  }

  /** Readings on record that do not agree with one another: looked at as built. */
  private misclosures(): Found[] {
    if (this.build.reading.overlays.length > 0 || this.build.records.length === 0) return [];
    // Readings of what hangs together in the spec: others contradict nothing but the spec.
    const read = new Map<BuildCell, FigureId>();
    const figures = new Set(figuresOnRecord(this.build).map(({ value }) => value));
    const joined = [...figures].some((value) => {
      const cell =
        value instanceof FigureValue ? this.build.reading.cells.cellOf(value.id) : undefined;
      if (cell === undefined || !(value instanceof FigureValue)) return false;
      const before = read.get(cell);
      read.set(cell, value.id);
      return before !== undefined && before !== value.id;
    });
    const built = joined ? this.build.asBuilt() : this.build;
    if (built === this.build) return [];
    return built.reading.misclosed.flatMap(
      (each) => misclosure(each, contextOf(built, each.cell)) ?? [],
    );
  }

  /** What is on record is looked at where it is written, as all that is given. */
  private unusualReadings(): Found[] {
    if (this.build.reading.overlays.length > 0) return [];
    const found: Found[] = [];
    // Most of what a log tells over and over has no range to lie in.
    const ranged = new Map<Value, ModelVariable | undefined>();
    for (const each of figuresOnRecord(this.build)) {
      const { value } = each;
      if (!ranged.has(value)) ranged.set(value, this.withRange(value));
      const own = ranged.get(value);
      const measurement = own && measurementOf(each);
      if (own === undefined || measurement === undefined) continue;
      const { entry, figure } = measurement;
      const expected = () => value.outcome()?.si ?? value.si;
      const unusual = outOfRange({ ...own, entry, figure }, false, expected);
      if (unusual !== undefined) found.push(unusual);
    }
    return found;
  }

  private withRange(value: Value): ModelVariable | undefined {
    const own = value instanceof FigureValue ? this.build.reading.figure(value.id) : undefined;
    return own?.variable.range === undefined ? undefined : own;
  }

  /** A fault in what looks further is told, and takes nothing else with it. */
  private furtherFindings(): Finding[] {
    const { further } = this.parts;
    const { reading } = this.build;
    const { patience } = reading.workshop;
    if (reading.overlays.length > 0) return [];
    return further.flatMap((look) => {
      pause(patience);
      const [item] = reading.build.root.source.items;
      try {
        if (timeIsUp(patience)) throw new TimeUp(patience.seconds);
        return this.build.inWords(look(this.build));
      } catch (error) {
        if (error instanceof TakenBack) throw error;
        if (error instanceof TimeUp) {
          if (item !== undefined) reading.leftOut.note("order of work", this.build.rootUri, item);
          return [];
        }
        const why = error instanceof Error ? error.message : String(error);
        const span = { start: 0, end: 0 };
        return item === undefined
          ? []
          : this.build.inWords([
              { is: "build/fault", why, anchor: { uri: this.build.rootUri, item, span } },
            ]);
      }
    });
  }

  private syntaxFindings(): Finding[] {
    const found: Found[] = [];
    for (const { uri, source } of this.build.reading.build.files) {
      for (const item of source.items) {
        for (const { span, ...fact } of item.problems)
          found.push({ ...fact, anchor: { uri, item, span } });
      }
    }
    return this.build.inWords(found);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const lines = new WeakMap<Finding, string>();

function inOneLine(finding: Finding): string {
  let line = lines.get(finding);
  if (line === undefined) {
    line = `${finding.code} ${finding.message}`;
    lines.set(finding, line);
  }
  return line;
}

const wordsKept = new WeakMap<
  OptionView,
  { readonly writer: Writer; readonly words: readonly OfOption[] }
>();

/** What an option says, as it would be said without it, and as it is told. */
interface OfOption {
  readonly line: string;
  readonly told: Finding;
}

/** A record never makes the spec wrong. */
function mildly(finding: Finding): Finding {
  return { ...finding, severity: finding.severity === "error" ? "warning" : finding.severity };
}

/** What is kept until more advice is worked out. */
const soFar = "findings so far";

/** What hangs on nothing but the build: not on who else looks it through, or on advice that is to come. */
const kept: ReadonlySet<string> = new Set([
  "missing",
  "own findings",
  "misclosures",
  "unusual readings",
]);
