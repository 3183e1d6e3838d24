/** Builds the bundles where a source has changed, so that tests of the built server and command run what is written. */
import { buildWhereNeeded } from "./build.mts";

export async function setup(): Promise<void> {
  await buildWhereNeeded();
}
