/**
 * Pictures that records name and that are not where they say, seen from the folder of the log.
 *
 * Must not know: how files are read.
 */
import type { Analysis } from "../analysis/analysis";
import type { FileHost } from "../analysis/host";
import type { Finding } from "../findings/finding";
import { found } from "./plan-findings";
import { sequenceOf } from "./sequence";
import { record as words } from "./wording";

/** None where the host cannot tell what lies beside a file. */
export function photoFindings(analysis: Analysis, host: FileHost): Finding[] {
  if (host.exists === undefined) return [];
  return sequenceOf(analysis).events.flatMap((event) => {
    if (event.is !== "photo") return [];
    const uri = resolved(event.path, event.anchor.uri);
    if (uri !== undefined && host.exists?.(uri) === true) return [];
    return [found("record/no-photo", "warning", words.noPhoto(event.path), event)];
  });
}

/** Only files beside the log or below it: a path that leads elsewhere leads nowhere. */
function resolved(path: string, from: string): string | undefined {
  if (/^[a-z][a-z0-9+.-]*:/i.test(path) || path.includes("\0")) return undefined;
  try {
    const names = path.replaceAll("\\", "/").split("/").map(encodeURIComponent).join("/");
    const uri = new URL(names, from).href;
    return uri.startsWith(new URL(".", from).href) ? uri : undefined;
  } catch {
    return undefined;
  }
}
