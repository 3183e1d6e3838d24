/**
 * What is laid over a build: its options, and what is on record in the place of what is written. Each is
 * read when it is first asked for, made from what it was before an edit.
 *
 *     new LaidOver(build, beforeEdit, views).under("narrow")
 *
 * Must not know: how anything is laid over, what options are about.
 */
import { pause, timeIsUp } from "../keep/patience";
import type { BuildAnalysis } from "./build-analysis";
import { type OptionView, type OptionViews, optionView, viewsKept } from "./option-views";
import type { Overlay } from "./overlay";
import type { differing } from "./results-kept";

export class LaidOver {
  private readonly variants = new Map<string, BuildAnalysis>();
  /** What was laid over the build before its last edit, as far as there still is such a thing. */
  private readonly earlier = new Map<string, BuildAnalysis>();
  /** What its options say, as far as it was read or is as it was before the edit. */
  private readonly views: Map<string, OptionView | undefined>;

  /** `before`: of the build before its last edit, of whose views some may be kept. */
  constructor(
    private readonly build: BuildAnalysis,
    before: LaidOver | undefined,
    views: OptionViews = new Map(),
  ) {
    this.views = new Map(views);
    if (before === undefined) return;
    for (const key of [asBuiltKey, ...build.options.map(({ name }) => optionKey(name))]) {
      const laid = before.variants.get(key) ?? before.earlier.get(key);
      if (laid !== undefined) this.earlier.set(key, laid);
    }
  }

  /** Laid over the same build where nothing but places in its texts is another. */
  movedTo(build: BuildAnalysis): LaidOver {
    const moved = new LaidOver(build, undefined, this.views);
    for (const [key, made] of this.variants)
      moved.variants.set(key, made.movedTo(build.reading.build));
    for (const [key, laid] of this.earlier) moved.earlier.set(key, laid);
    return moved;
  }

  under(option: string): BuildAnalysis | undefined {
    const found = this.build.options.find(({ name }) => name === option);
    const key = optionKey(option);
    if (found === undefined) return undefined;
    const { leftOut, workshop } = this.build.reading;
    if (!this.variants.has(key) && timeIsUp(workshop.patience)) {
      leftOut.note("options", found.anchor.uri, found.anchor.item);
      return undefined;
    }
    return this.variant(key, { is: "option", name: option });
  }

  asBuilt(): BuildAnalysis {
    return this.variant(asBuiltKey, { is: "as built" });
  }

  private variant(key: string, overlay: Overlay): BuildAnalysis {
    const made = this.variants.get(key) ?? this.build.with(overlay, this.earlier.get(key));
    if (made !== this.build) this.variants.set(key, made);
    return made;
  }

  /** What each option says by itself. */
  get optionViews(): readonly OptionView[] {
    const { leftOut, workshop } = this.build.reading;
    const { patience } = workshop;
    return this.build.options.flatMap((option) => {
      if (this.views.has(option.name)) return this.views.get(option.name) ?? [];
      pause(patience);
      const view = timeIsUp(patience) ? undefined : optionView(this.build, option);
      // What there was no time to end says too little.
      if (timeIsUp(patience)) {
        leftOut.note("options", option.anchor.uri, option.anchor.item);
        return [];
      }
      this.views.set(option.name, view);
      return view ?? [];
    });
  }

  /** Of what its options say, what an edit has nothing to do with; `after`: the build after it. */
  viewsKept(edit: ReturnType<typeof differing>, after: BuildAnalysis): OptionViews {
    return viewsKept(this.views, edit, [this.build, after]);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const asBuiltKey = "as built";
const optionKey = (option: string): string => `option ${option}`;
