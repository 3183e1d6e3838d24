/**
 * Paths of a disk and the URIs that stand for them.
 *
 *     pathOf(uriOf("/shop/a b/build.trammel"))   →   the same path
 *
 * Must not know: what lies there.
 */
import { fileURLToPath, pathToFileURL } from "node:url";

/** The URI of an absolute path, each name encoded the way paths in `use` are. */
export function uriOf(path: string): string {
  const url = pathToFileURL(path).href;
  const [scheme, ...names] = url.split("///");
  const encoded = names
    .join("///")
    .split("/")
    .map((name) => (/^[A-Za-z]:$/.test(name) ? name : encodeURIComponent(decoded(name))));
  return `${scheme}///${encoded.join("/")}`;
}

/** `undefined` for what is no file of this disk. */
export function pathOf(uri: string): string | undefined {
  try {
    return fileURLToPath(uri);
  } catch {
    return undefined;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function decoded(name: string): string {
  try {
    return decodeURIComponent(name);
  } catch {
    return name;
  }
}
