/**
 * Whether the texts of a build say what they said before: remarks, empty lines and what stands where may be
 * others, declarations and lines are not.
 *
 *     saysTheSame(before, after)   →   true where somebody typed a remark
 *
 * Must not know: what they say.
 */
import { sameFacts } from "../findings/collected";
import type { Found } from "../findings/worded";
import type { BuildFile, BuildFiles } from "./files";
import { sameNames } from "./same-names";

export function saysTheSame(before: BuildFiles, after: BuildFiles): boolean {
  return (
    before.vocabulary === after.vocabulary &&
    before.files.length === after.files.length &&
    before.logs.size === after.logs.size &&
    after.files.every((file, at) => {
      const other = before.files[at] as BuildFile;
      return (
        file.uri === other.uri &&
        after.logs.has(file) === before.logs.has(other) &&
        sameItems(file, other) &&
        sameNames(other.scope, file.scope)
      );
    })
  );
}

/** Whether the same is found at the same places. */
export function findsTheSame(before: readonly Found[], after: readonly Found[]): boolean {
  return (
    before.length === after.length &&
    after.every((found, at) => {
      const other = before[at] as Found;
      const [here, there] = [found.anchor, other.anchor];
      return (
        here.uri === there.uri &&
        here.item === there.item &&
        here.span.start === there.span.start &&
        here.span.end === there.span.end &&
        sameFacts(found, other)
      );
    })
  );
}

// ───────────────────────────── helpers ─────────────────────────────

function sameItems({ source: { items } }: BuildFile, other: BuildFile): boolean {
  const { items: before } = other.source;
  return items.length === before.length && items.every((item, at) => item === before[at]);
}
