/**
 * A log of thousands of lines of one axle: the same work done again day after day, an entry a line. All
 * of it is invented.
 *
 *     longLog(4700).split("\n").length   →   4701, with the line that names the build
 */
import { A, B, base, rec, redo } from "./axle-entries";

/** The log of `axle-entries.ts`, then shims, joints, wheels and drives again. */
export function longLog(length: number): string {
  const lines = base.map(([, text]) => text);
  let miles = 1250;
  for (let after = 18; lines.length < length - 1; after++) {
    const odometer = (): string => {
      miles += 60;
      return rec(after, B, `van.odometer: ${miles}.0 mi`);
    };
    lines.push(
      odometer(),
      rec(after, A, "job.gaps.done: yes"),
      rec(after, A, "job.shims.done: yes"),
      ...redo(after),
      rec(after, A, "nuts { tightened: 92 lb-ft; held: yes }", "big click"),
      rec(after, A, "job.wheels.done: yes"),
      rec(after, A, "job.down.done: yes"),
      rec(after, A, "job.drive.done: yes"),
      odometer(),
      rec(after, A, "nuts { rechecked: yes; tightened: 92 lb-ft }", "big click"),
      rec(after, A, "job.again.done: yes"),
    );
  }
  return `use "build.trammel"\n${lines.slice(0, length - 1).join("")}`;
}
