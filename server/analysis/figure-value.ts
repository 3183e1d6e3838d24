/**
 * One figure of a solved group, put together as far as it is read.
 *
 *     new FigureValue(group, 7).standing   →   "solved"
 *
 * Must not know: how groups are made, how anything is shown beside its sentences.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import type { Writer } from "../findings/writer";
import { inTime } from "../keep/patience";
import type { FieldDefinition } from "../model/definition";
import type { ModelVariable } from "../model/model";
import { nominalAnchor, type Thing } from "../model/thing";
import type { FigureId } from "../names/ids";
import { isSearchedThrough, spreadOf } from "../solve";
import type { Determination, Spread } from "../solve/system";
import type { Outcome, Reason, Standing, Value, Wanted } from "./analysis";
import type { BuildCells } from "./build-cells";
import { contributorsOf, outcomeOfFigure, wantedOf } from "./outcome";
import type { Reading } from "./reading";
import { reasonOf, restsOn, SolvedCell } from "./reasons";

/** What a figure is asked of. */
export interface FigureSource {
  readonly writer: Writer;
  readonly reading: Reading;
  piecesOf(figure: FigureId): string | undefined;
}

/** One figure, put together as far as it is read. */
export class FigureValue implements Value {
  private reasonMade: { readonly reason: Reason | undefined } | undefined;
  private spreadMade: { readonly spread: Spread | undefined } | undefined;

  constructor(
    private readonly source: FigureSource,
    readonly id: FigureId,
  ) {}

  private get variable(): ModelVariable {
    return this.source.reading.figure(this.id) as ModelVariable;
  }

  /** Where it is solved; nothing for what is given or stands alone. */
  private get cell(): SolvedCell | undefined {
    const { reading } = this.source;
    const cell = reading.cells.cellOf(this.id);
    return cell && new SolvedCell(reading, cell);
  }

  private pathMade: { readonly names: object; readonly path: string } | undefined;

  /** Stays as long as all names lead where they did. */
  get path(): string {
    const { names } = this.source.reading;
    if (this.pathMade?.names !== names) this.pathMade = { names, path: this.variable.name };
    return this.pathMade.path;
  }

  get thing(): Thing {
    return this.variable.thing;
  }

  get field(): FieldDefinition {
    return this.variable.part ?? this.variable.field;
  }

  get measure() {
    return this.variable.measure;
  }

  get si(): number | undefined {
    return this.siIn(this.source.reading.cells);
  }

  get siAsWritten(): number | undefined {
    const { cells, cellsRead, isAsBuilt } = this.source.reading;
    return cells === cellsRead || isAsBuilt ? undefined : this.siIn(cellsRead);
  }

  private siIn(cells: BuildCells): number | undefined {
    const cell = cells.cellOf(this.id);
    const si =
      cell === undefined
        ? cells.variable(this.id)?.given?.value
        : cell.solution.values[cell.placeOf(this.id) ?? -1];
    return si !== undefined && Number.isFinite(si) ? si : undefined;
  }

  private standingMade: Standing | undefined;

  /** Stays as long as what it is asked of holds. */
  get standing(): Standing {
    this.standingMade ??= this.workOutStanding();
    return this.standingMade;
  }

  private workOutStanding(): Standing {
    if (this.wanted?.met === true) return "given";
    const determination = this.determination;
    switch (determination?.how) {
      case "solved":
      case "assumed":
        return determination.how;
      case undefined:
        if (this.si === undefined) return "missing";
        return this.variable.entry?.layer === "record" ? "measured" : "given";
      default:
        return "missing";
    }
  }

  get role() {
    return this.variable.variable.role;
  }

  private wantedMade: { readonly wanted: Wanted | undefined } | undefined;

  get wanted(): Wanted | undefined {
    this.wantedMade ??= { wanted: wantedOf(this.source.reading, this.variable) };
    return this.wantedMade.wanted;
  }

  private outcomeMade: { readonly outcome: Outcome | undefined } | undefined;

  outcome(): Outcome | undefined {
    this.outcomeMade ??= {
      outcome: inTime(() => outcomeOfFigure(this.source.reading, this.variable), undefined),
    };
    return this.outcomeMade.outcome;
  }

  /** How its cell came to it; nothing for what is given or stands alone. */
  get determination(): Determination | undefined {
    const { cell } = this;
    return cell?.solution.determinations[cell.placeOf(this.id) ?? -1];
  }

  get anchor(): Anchor | undefined {
    const { entry, thing } = this.variable;
    return entry?.anchor ?? thing.asked.get(this.id.key)?.anchor;
  }

  get currency(): string | undefined {
    return this.variable.figure?.currency;
  }

  get written(): string | undefined {
    const { entry, figure, part } = this.variable;
    if (entry === undefined || figure === undefined || part !== undefined) return undefined;
    if (this.wanted?.met === false || this.asRead !== undefined) return undefined;
    const anchor = nominalAnchor(entry);
    return anchor === undefined ? undefined : textAt(anchor).replaceAll(/\s+/g, " ");
  }

  get asRead(): number | undefined {
    return this.source.reading.isTaken(this.id) ? this.variable.figure?.value : undefined;
  }

  get pieces(): string | undefined {
    return this.source.piecesOf(this.id);
  }

  get reason(): Reason | undefined {
    if (this.reasonMade === undefined) {
      const { cell } = this;
      const wished = this.wanted?.met === true;
      const reason =
        wished || cell === undefined
          ? undefined
          : inTime(() => reasonOf(cell, cell.placeOf(this.id) ?? -1), undefined);
      this.reasonMade = { reason };
    }
    return this.reasonMade.reason;
  }

  get othersNotExcluded(): boolean {
    const { cell } = this;
    const place = cell?.placeOf(this.id) ?? -1;
    return cell !== undefined && !inTime(() => isSearchedThrough(cell.solution, place), false);
  }

  get restsOn(): readonly string[] {
    const { cell } = this;
    if (this.wanted?.met === true) return [];
    if (cell === undefined) return [];
    return inTime(() => restsOn(cell, cell.placeOf(this.id) ?? -1, this.source.writer), []);
  }

  spread(): Spread | undefined {
    this.spreadMade ??= { spread: inTime(() => this.workOutSpread(), undefined) };
    return this.spreadMade.spread;
  }

  private workOutSpread(): Spread | undefined {
    if (this.si === undefined) return undefined;
    const solved = this.source.reading.cells.solvedFor([this.id], "wished");
    const variables = [solved.placeOf(this.id) ?? -1];
    return spreadOf(solved.solution, { expression: { op: "slot", index: 0 }, variables });
  }

  contributors() {
    const { reading } = this.source;
    return inTime(() => {
      const solved = new SolvedCell(reading, reading.cells.solvedFor([this.id], "wished"));
      return contributorsOf(this.spread(), solved);
    }, []);
  }

  /** Whether it is open for no other reason than that there was no time to solve for it. */
  get isCutShort(): boolean {
    return this.source.reading.cells.cellOf(this.id)?.core.isCutShort === true;
  }
}
