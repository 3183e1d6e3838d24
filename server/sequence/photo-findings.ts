/**
 * Pictures that records name and that are not where they say, seen from the folder of the log.
 *
 * Must not know: how files are read.
 */
import type { Analysis } from "../analysis/analysis";
import type { FileHost } from "../analysis/host";
import type { Found } from "../findings/worded";
import { recordedIn } from "./sequence";

/** None where the host cannot tell what lies beside a file. */
export function photoFindings(analysis: Analysis, host: FileHost): Found[] {
  if (host.exists === undefined) return [];
  const findings: Found[] = [];
  for (const event of recordedIn(analysis)) {
    if (event.is !== "photo") continue;
    const uri = resolved(event.path, event.anchor.uri);
    if (uri !== undefined && host.exists(uri)) continue;
    findings.push({ is: "record/no-photo", path: event.path, anchor: event.anchor });
  }
  return findings;
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
