/**
 * Lines by where they are, so that a place is held against those near it and no others.
 *
 *     new LineIndex(lines).near([0, 0, 10, 10])   →   lines whose boxes meet that box
 */
import Flatbush from "flatbush";
import { boxAround, type Segment } from "./geometry";
import type { Box } from "./shape";

export class LineIndex {
  private readonly tree: Flatbush | undefined;

  constructor(private readonly lines: readonly Segment[]) {
    // The tree holds one at least.
    if (lines.length === 0) return;
    this.tree = new Flatbush(lines.length);
    for (const line of lines) this.tree.add(...boxAround(line));
    this.tree.finish();
  }

  near([left, top, right, bottom]: Box): Segment[] {
    const found = this.tree?.search(left, top, right, bottom) ?? [];
    return found.flatMap((index) => {
      const line = this.lines[index];
      return line === undefined ? [] : [line];
    });
  }
}
