/**
 * Which files are logs of a build: each person may keep one of their own, and all of them are read
 * together.
 *
 *     isLogName("log-ana.trammel")   →   true
 *
 * Must not know: what stands in a log.
 */
import type { FileHost } from "./host";

/** `log.trammel`, `log-ana.trammel`: read with the build in whose folder they lie and whose files they use. */
export function isLogName(name: string): boolean {
  return /^log[^/]*\.trammel$/i.test(name);
}

/** URIs of the logs in the folder of a file, itself left out, in a stable order. */
export function logsBeside(uri: string, host: FileHost): string[] {
  return filesLike(uri, host, isLogName).filter((each) => each !== uri);
}

/** URIs that a path with `*` in its last name stands for: `days/*.trammel`; none where it lies elsewhere. */
export function filesOfPattern(target: string, host: FileHost): string[] {
  const slash = target.lastIndexOf("/") + 1;
  const [folder, name] = [target.slice(0, slash), decoded(target.slice(slash))];
  if (folder.includes("*")) return [];
  const parts = name.split("*").map((part) => part.replaceAll(/[.+?^${}()|[\]\\]/g, "\\$&"));
  const pattern = new RegExp(`^${parts.join(".*")}$`, "i");
  return filesLike(`${folder}x`, host, (each) => pattern.test(each));
}

/** Whether a file that came or changed may be a log of a build it was not yet read with. */
export function isLogBeside(uri: string, buildUri: string): boolean {
  const slash = uri.lastIndexOf("/") + 1;
  return uri.slice(0, slash) === buildUri.slice(0, slash) && isLogName(decoded(uri.slice(slash)));
}

// ───────────────────────────── helpers ─────────────────────────────

function filesLike(uri: string, host: FileHost, isLike: (name: string) => boolean): string[] {
  const folder = uri.slice(0, uri.lastIndexOf("/") + 1);
  const names = host.namesIn?.(folder, uri) ?? [];
  return names
    .filter(isLike)
    .sort()
    .map((name) => `${folder}${encodeURIComponent(name)}`);
}

function decoded(name: string): string {
  try {
    return decodeURIComponent(name);
  } catch {
    return name;
  }
}
