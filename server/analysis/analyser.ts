/**
 * Reads a build and answers with an analysis; keeps what an edit does not touch.
 *
 *     const analyser = new Analyser(host, loadLibrary(libraryFiles()));
 *     analyser.analyse("file:///shop/build.trammel")?.valueAt("rear_housing.face_to_face")
 *
 * Must not know: editors, terminals, where files really are.
 */
import { type Analysis, type AnalysisSettings, defaultLevels, type Levels } from "./analysis";
import { BuildAnalysis, type FurtherFindings, repeatedOptions } from "./build-analysis";
import { type BuildFile, type BuildFiles, FileLoader } from "./files";
import { type GroupContext, GroupResult } from "./group-result";
import { type Group, groupsOf, sameMembers } from "./groups";
import type { FileHost } from "./host";
import type { Library } from "./library";
import { builtStyle } from "./style";

export type { FurtherFindings } from "./build-analysis";

export class Analyser {
  private readonly loader: FileLoader;
  private readonly memory = new Map<string, RootMemory>();

  /** `further`: what else looks a build through; see `FurtherFindings`. */
  constructor(
    host: FileHost,
    private readonly library: Library,
    private readonly further: readonly FurtherFindings[] = [],
  ) {
    this.loader = new FileLoader(host, library);
  }

  /** `undefined` where the root file cannot be read. Never throws for anything written in a file. */
  analyse(rootUri: string, settings: AnalysisSettings = {}): Analysis | undefined {
    const build = this.loader.load(rootUri);
    if (build === undefined) {
      this.memory.delete(rootUri);
      return undefined;
    }
    const { style, findings } = builtStyle(build, settings);
    const levels: Levels = { ...defaultLevels, ...settings.levels };
    const memory = this.memory.get(rootUri) ?? new RootMemory();
    this.memory.set(rootUri, memory);
    memory.begin(`${JSON.stringify([levels, style.system, [...style.perMeasure]])}`, build);
    const results = groupsOf(build).map((group) => ({
      group,
      result: memory.resultOf(group, {
        overlay: { is: "spec" },
        vocabulary: build.vocabulary,
        pool: this.library.pool,
        style,
        levels,
      }),
    }));
    memory.end();
    return new BuildAnalysis({
      build,
      library: this.library,
      further: this.further,
      style,
      levels,
      results,
      outside: [...build.findings, ...findings, ...repeatedOptions(build)],
      overlay: { is: "spec" },
    });
  }

  /** Forgets a root file, when it is closed. */
  forget(rootUri: string): void {
    this.memory.delete(rootUri);
    this.loader.forget(rootUri);
  }
}

/** What is kept of one root file between readings. */
class RootMemory {
  private kept = new Map<object, { group: Group; result: GroupResult }>();
  private next = new Map<object, { group: Group; result: GroupResult }>();
  private bySecond = new Map<object, { group: Group; result: GroupResult }>();
  private settings = "";
  private names = "";
  private vocabulary: object | undefined;
  private changed = true;
  private namesChanged = true;

  begin(settings: string, build: BuildFiles): void {
    const names = build.files
      .map(
        (file) =>
          `${file.scope.prefix} ${namesOf(file)} ${[...file.scope.namespaces.keys()].join(" ")}`,
      )
      .join("\n");
    this.namesChanged = names !== this.names;
    this.changed = settings !== this.settings || build.vocabulary !== this.vocabulary;
    this.settings = settings;
    this.names = names;
    this.vocabulary = build.vocabulary;
    this.next = new Map();
    this.bySecond = new Map();
    for (const kept of this.kept.values()) {
      const second = kept.group.members[1];
      if (second !== undefined) this.bySecond.set(second.item, kept);
    }
  }

  resultOf(group: Group, context: GroupContext): GroupResult {
    const first = group.members[0];
    const before = first === undefined ? undefined : this.kept.get(first.item);
    const reusable =
      before !== undefined &&
      !this.changed &&
      sameMembers(before.group, group) &&
      !(this.namesChanged && (group.hasUnknownNames || before.result.model.findings.length > 0));
    const plan = before?.result.solution.plan ?? this.planOfNeighbour(group);
    const result = reusable ? before.result : new GroupResult({ ...context, group, plan });
    if (first !== undefined) this.next.set(first.item, { group, result });
    return result;
  }

  end(): void {
    this.kept = this.next;
  }

  /** The first item of a group may be the edited one: look for the group by its second item. */
  private planOfNeighbour(group: Group): GroupResult["solution"]["plan"] | undefined {
    const second = group.members[1];
    const old = second === undefined ? undefined : this.bySecond.get(second.item);
    return old?.group.members.length === group.members.length
      ? old.result.solution.plan
      : undefined;
  }
}

/** With their kinds: what is said of a wrong name lists those that would do. */
function namesOf({ scope }: BuildFile): string {
  return [...scope.declarations].map(([name, { node }]) => `${node.kind.text} ${name}`).join(" ");
}
