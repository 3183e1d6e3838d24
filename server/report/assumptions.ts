/**
 * Numbers what figures rest on that was only assumed, so that a table can point to a list below it.
 * The same default of several things is one entry.
 *
 *     const notes = new Assumptions(analysis);
 *     notes.marks(value.restsOn)   // " [1, 3-5]"
 *     notes.entries()              // ["quantity is 1: rear_housing, left_shaft (common practice)", …]
 *
 * Must not know: tables, terminals.
 */
import type { Analysis, Value } from "../analysis/analysis";
import { runsOf } from "../findings/phrases";
import { nameInThing } from "./selection";

export class Assumptions {
  private readonly notes = new Map<
    string,
    { readonly number: number; readonly source?: string; readonly things: string[] }
  >();

  constructor(private readonly analysis: Analysis) {}

  /** With a space before it; empty where it rests on none. */
  marks(restsOn: readonly string[]): string {
    const numbers = [...new Set(restsOn.map((each) => this.numberOf(each)))].sort(
      (one, other) => one - other,
    );
    return numbers.length === 0 ? "" : ` [${ranges(numbers)}]`;
  }

  /** In the order of their numbers. */
  entries(): string[] {
    return [...this.notes].map(([title, { things, source }]) => {
      const where = things.length === 0 ? "" : `: ${things.join(", ")}`;
      return `${title}${where}${source === undefined ? "" : ` (${source})`}`;
    });
  }

  private numberOf(written: string): number {
    const { title, value, source } = this.read(written);
    let note = this.notes.get(title);
    if (note === undefined) {
      note = { number: this.notes.size + 1, source, things: [] };
      this.notes.set(title, note);
    }
    if (value !== undefined && !note.things.includes(value.thing.path))
      note.things.push(value.thing.path);
    return note.number;
  }

  /** A default says which figure of which thing it is; an assumed relation says its title. */
  private read(written: string): { title: string; value?: Value; source?: string } {
    const [path = "", figure] = written.split(" is ", 2);
    const value = figure === undefined ? undefined : this.analysis.values.get(path);
    if (value !== undefined && figure !== undefined)
      return { title: `${nameInThing(value)} is ${figure}`, value, source: value.field.source };
    return { title: written, source: this.sourceOfRelation(written) };
  }

  private sourceOfRelation(title: string): string | undefined {
    for (const kind of this.analysis.vocabulary.kinds.values()) {
      const relation = kind.relations.find(
        (each) => each.word === "assume" && each.title === title,
      );
      if (relation !== undefined) return relation.remarks.source;
    }
    return undefined;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** `1, 3-5` */
function ranges(numbers: readonly number[]): string {
  return runsOf(numbers)
    .map(({ first, last }) =>
      first === last ? `${first}` : last === first + 1 ? `${first}, ${last}` : `${first}-${last}`,
    )
    .join(", ");
}
