/**
 * Which build is being read, for whoever watches over this thread, and which are not read at all:
 * those that ended a thread before, as long as their text is the one they did it with.
 *
 * Must not know: what ends a thread.
 */
import type { LeftAlone } from "./service-messages";

export class Watch {
  private readonly builds: ReadonlyMap<string, LeftAlone>;

  constructor(
    leftAlone: readonly LeftAlone[],
    /** Told before a build is read. */
    readonly begins: (uri: string) => void,
  ) {
    this.builds = new Map(leftAlone.map((each) => [each.uri, each]));
  }

  /** `version`: of the open document, `undefined` where it is not open. */
  leftAlone(uri: string, version: number | undefined): LeftAlone | undefined {
    const found = this.builds.get(uri);
    return found?.version === version ? found : undefined;
  }
}
