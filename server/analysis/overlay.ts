/**
 * What is laid over the spec of a build: one option of it, or what its records say was built.
 *
 *     writesOf(members, { is: "as built" })   →   the givens of the spec, then those of the records
 *
 * Must not know: what the values are, how anything is solved.
 */
import type { Write } from "../model/build-things";
import type { Placed } from "./groups";

/** Which members are laid over the spec. */
export type Overlay =
  | { readonly is: "spec" }
  | { readonly is: "option"; readonly name: string }
  | { readonly is: "as built" };

/** What is written into the things of a group, in the order in which it counts. */
export function writesOf(members: readonly Placed[], overlay: Overlay): Write[] {
  const writes: Write[] = [];
  for (const { item, scope } of members) {
    if (item.node.type === "given") writes.push({ node: item.node, item, scope, layer: "spec" });
  }
  for (const { item, scope } of members) {
    const { node } = item;
    if (node.type === "option" && overlay.is === "option" && node.name.text === overlay.name) {
      for (const member of node.members) {
        if (member.type === "given" || member.type === "part")
          writes.push({ node: member, item, scope, layer: "option" });
      }
    }
  }
  return overlay.is === "as built" ? [...writes, ...recordWrites(members)] : writes;
}

/** By their days, whatever the order they stand in; what has no day comes first. */
export function recordWrites(members: readonly Placed[]): Write[] {
  const writes = members.flatMap(({ item, scope }) => {
    const { node } = item;
    if (node.type !== "record") return [];
    return node.members.flatMap((member): Write[] =>
      member.type === "given" || member.type === "part"
        ? [{ node: member, item, scope, layer: "record", date: node.date?.text }]
        : [],
    );
  });
  const day = ({ date = "" }: Write): string => date;
  return writes.sort((one, other) => (day(one) < day(other) ? -1 : day(one) > day(other) ? 1 : 0));
}
