/**
 * What stood beside the lines when the text could last be read, for as long as it is half-typed.
 * It is shown as what it was, and let go once the text has stayed broken for long, or where
 * something it rests on is no longer there.
 *
 * Must not know: how it is shown.
 */
import type { SourceFile } from "../../grammar/syntax";
import type { Analysis, AskedValue, Value } from "../analysis/analysis";
import type { Thing } from "../model/thing";
import { headlines } from "./figures";

/** So many readings of broken text: whoever types a line makes fewer. */
const longest = 100;
/** What a figure rests on is followed so far. */
const mostFollowed = 500;

export class LastWhole {
  private whole: Analysis | undefined;
  private latest: Analysis | undefined;
  /** Words in the items of the latest reading that cannot be read as they stand; none where all can. */
  private broken: ReadonlySet<string> = new Set();
  private readings = 0;

  /** Each reading, before anything is asked of it. */
  note(analysis: Analysis, source: SourceFile): void {
    const items = source.items.filter((item) => item.problems.length > 0);
    if (items.length === 0) {
      this.whole = analysis;
      this.readings = 0;
      this.broken = new Set();
    } else {
      if (analysis !== this.latest) this.readings++;
      if (this.readings > longest) this.whole = undefined;
      this.broken = new Set(items.flatMap(({ text }) => text.split(/[^\p{L}\p{N}_]+/u)));
    }
    this.latest = analysis;
  }

  /** The same figure as it was; nothing where it is known now, or was not known then. */
  asked({ value, option }: AskedValue): { analysis: Analysis; asked: AskedValue } | undefined {
    const { whole } = this;
    if (value.standing !== "missing" || whole === undefined || this.broken.size === 0)
      return undefined;
    const before = whole.asked.find(
      (each) => each.value.path === value.path && each.option === option,
    );
    if (before === undefined || before.value.standing === "missing") return undefined;
    const under = option === undefined ? whole : whole.under(option);
    return under !== undefined && this.stands(before.value, under)
      ? { analysis: under, asked: before }
      : undefined;
  }

  /** The headline figures of a thing as they were, but for those that are asked for. */
  headlines({ path }: Thing): { analysis: Analysis; values: readonly Value[] } | undefined {
    const { whole, latest } = this;
    const thing = this.broken.size === 0 ? undefined : whole?.thingAt(path);
    if (whole === undefined || thing === undefined) return undefined;
    const values = headlines(thing, (each) => whole.valueAt(each)).filter(
      (value) => latest?.isAskedFor(value) !== true && this.stands(value, whole),
    );
    return values.length === 0 ? undefined : { analysis: whole, values };
  }

  // ── helpers ──

  /** True where every figure behind it is there still, or stands in what cannot be read now. */
  private stands(value: Value, whole: Analysis): boolean {
    const followed = new Set([value.path]);
    for (const path of followed) {
      if (followed.size > mostFollowed) return false;
      const found = whole.valueAt(path);
      if (found === undefined) continue;
      const inputs = found.reason?.inputs ?? [];
      if (inputs.length === 0 && !this.isThere(found)) return false;
      for (const input of inputs) followed.add(input);
    }
    return true;
  }

  private isThere({ path, thing, field }: Value): boolean {
    return (
      this.latest?.valueAt(path)?.si !== undefined ||
      this.broken.has(thing.top.name) ||
      this.broken.has(field.name)
    );
  }
}
