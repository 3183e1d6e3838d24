/** Holds what questions take, counted in operations, to what it was when it was last noted. */
import { expect } from "vitest";
import { workDone } from "../../server/keep/patience";

export type Work = Readonly<Record<string, () => unknown>>;

/** What takes more than is noted wants a reason; what takes a good deal less is noted anew. */
export async function holdToNoted(
  work: Work,
  noted: Readonly<Record<string, number>>,
  name: string,
): Promise<void> {
  const before = workDone();
  await work[name]!();
  const done = workDone() - before;
  expect(done, `${name}: noted are ${noted[name]}`).toBeLessThanOrEqual(noted[name]!);
  expect(done, `${name}: takes less now, note it`).toBeGreaterThan(0.95 * noted[name]!);
}
