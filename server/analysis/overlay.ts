/**
 * What is laid over the spec of a build: one option of it, what its records say was built, lines
 * that are tried out.
 *
 *     writesOf(placed, { is: "as built" })   →   what its records give
 *
 * Must not know: what the values are, how anything is solved.
 */
import { parseItem } from "../../grammar/parser";
import type { Item } from "../../grammar/syntax";
import type { Write } from "../model/write-field";
import type { Placed } from "./taken-in";

/** Laid over a build one upon the other, the last one uppermost. */
export type Overlay =
  | { readonly is: "option"; readonly name: string }
  | { readonly is: "as built" }
  /** An option that stands in no file; its names are those of the root file. */
  | { readonly is: "lines"; readonly item: Item; readonly uri: string };

/** Not a name a builder can write, so that it never meets one of theirs. */
export const trialName = "trial";

/** Lines laid over a build, as an item that stands in no file. */
export function trialItem(lines: string): Item {
  return parseItem(`option ${trialName} {\n${lines}\n}`);
}

/** What is written into things from outside of them, in the order in which it counts. */
export function writesOfSpec(placed: readonly Placed[]): Write[] {
  return placed.flatMap(({ item, file: { uri, library } }): Write[] =>
    item.node.type === "given" ? [{ node: item.node, item, uri, library, layer: "spec" }] : [],
  );
}

/** The same of what is laid over it. */
export function writesOf(placed: readonly Placed[], overlay: Overlay): Write[] {
  switch (overlay.is) {
    case "option":
      return placed.flatMap(({ item, file }) =>
        item.node.type === "option" && item.node.name.text === overlay.name
          ? writesIn(item, file.uri)
          : [],
      );
    case "lines":
      return writesIn(overlay.item, overlay.uri).map((write) => ({ ...write, tried: true }));
    case "as built":
      return recordWrites(placed);
  }
}

/** Whether anything in the build speaks of it. */
export function isSpokenOf(placed: readonly Placed[], overlay: Overlay): boolean {
  if (overlay.is === "lines") return true;
  return placed.some(({ item: { node } }) =>
    overlay.is === "as built"
      ? node.type === "record"
      : node.type === "option" && node.name.text === overlay.name,
  );
}

function writesOfRecord({ item, file }: Placed): Write[] {
  const { node } = item;
  if (node.type !== "record") return [];
  const { uri } = file;
  return node.members.flatMap((member): Write[] =>
    member.type === "given" || member.type === "part"
      ? [{ node: member, item, uri, library: false, layer: "record", date: node.date?.text }]
      : [],
  );
}

// ───────────────────────────── helpers ─────────────────────────────

function writesIn(item: Item, uri: string): Write[] {
  if (item.node.type !== "option") return [];
  return item.node.members.flatMap((member): Write[] =>
    member.type === "given" || member.type === "part"
      ? [{ node: member, item, uri, library: false, layer: "option" }]
      : [],
  );
}

/** By their days, whatever the order they stand in; what has no day comes first. */
function recordWrites(placed: readonly Placed[]): Write[] {
  const day = ({ date = "" }: Write): string => date;
  return placed
    .flatMap(writesOfRecord)
    .sort((one, other) => (day(one) < day(other) ? -1 : day(one) > day(other) ? 1 : 0));
}
