/**
 * The day it is where the command runs.
 *
 * Must not know: what it is for.
 */
import type { World } from "./world";

/** `2026-04-04`; `SOURCE_DATE_EPOCH` (reproducible-builds.org) sets it where output has to stay the same. */
export function todayOf({ environment }: World): string {
  const epoch = Number(environment.SOURCE_DATE_EPOCH);
  if (Number.isFinite(epoch) && epoch > 0) return new Date(epoch * 1000).toISOString().slice(0, 10);
  const now = new Date();
  const two = (part: number): string => String(part).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
