/**
 * The options and records that the files of a build declare.
 *
 * Must not know: what they come to.
 */

import type * as syntax from "../../grammar/syntax";
import type { Item } from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import type { OptionInfo, RecordInfo } from "./analysis";
import type { BuildFiles } from "./files";

/** Options are called by their names alone, whichever file they stand in. */
export function repeatedOptions(build: BuildFiles): Found[] {
  const first = new Map<string, OptionInfo["anchor"]>();
  const findings: Found[] = [];
  for (const file of build.files) {
    for (const item of file.source.items) {
      const { node } = item;
      if (node.type !== "option" || node.name.text === "") continue;
      const anchor = { uri: file.uri, item, span: node.name.span };
      const before = first.get(node.name.text);
      if (before === undefined) {
        first.set(node.name.text, anchor);
        continue;
      }
      findings.push({ is: "name/duplicate option", name: node.name.text, before, anchor });
    }
  }
  return findings;
}

export function optionsOf(build: BuildFiles): OptionInfo[] {
  const options = new Map<string, OptionInfo>();
  for (const file of build.files) {
    for (const item of file.source.items) {
      const { node } = item;
      if (node.type !== "option" || node.name.text === "" || options.has(node.name.text)) continue;
      options.set(node.name.text, {
        name: node.name.text,
        title: node.title?.value,
        anchor: { uri: file.uri, item, span: node.name.span },
      });
    }
  }
  return [...options.values()];
}

export function recordsOf(build: BuildFiles): RecordInfo[] {
  const records: RecordInfo[] = [];
  for (const { uri, source } of build.files)
    for (const item of source.items)
      if (item.node.type === "record") records.push(recordIn(item, item.node, uri));
  return records;
}

// ───────────────────────────── helpers ─────────────────────────────

const known = new WeakMap<Item, RecordInfo>();

/** The very same one as long as it stands as it does. */
function recordIn(item: Item, node: syntax.Record, uri: string): RecordInfo {
  const before = known.get(item);
  if (before?.anchor.uri === uri) return before;
  const record: RecordInfo = {
    title: node.title?.value,
    date: node.date?.text,
    node,
    anchor: { uri, item, span: node.span },
  };
  known.set(item, record);
  return record;
}
