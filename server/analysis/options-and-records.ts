/**
 * The options and records that the files of a build declare.
 *
 * Must not know: what they come to.
 */

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
  return build.files.flatMap((file) =>
    file.source.items.flatMap((item) =>
      item.node.type === "record"
        ? [
            {
              title: item.node.title?.value,
              date: item.node.date?.text,
              node: item.node,
              anchor: { uri: file.uri, item, span: item.node.span },
            },
          ]
        : [],
    ),
  );
}
