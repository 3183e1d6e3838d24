import type { FileScope } from "../names/scope";

export function sameNames(one: FileScope, other: FileScope): boolean {
  if (one === other) return true;
  if (one.prefix !== other.prefix || one.declarations.size !== other.declarations.size)
    return false;
  for (const [name, { id, node }] of other.declarations) {
    const match = one.declarations.get(name);
    if (match?.id !== id || match.node.kind.text !== node.kind.text) return false;
  }
  if (one.namespaces.size !== other.namespaces.size) return false;
  for (const [name, scope] of other.namespaces)
    if (one.namespaces.get(name)?.file.uri !== scope.file.uri) return false;
  return true;
}
