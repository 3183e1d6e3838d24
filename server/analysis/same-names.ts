import type { FileScope } from "../names/scope";

export function sameNames(one: FileScope, other: FileScope): boolean {
  if (one === other) return true;
  if (one.prefix !== other.prefix || one.declarations.size !== other.declarations.size)
    return false;
  // Most stand in the same order, and none has to be looked for.
  const inOrder = one.declarations.values();
  for (const [name, declaration] of other.declarations) {
    const { id, node } = declaration;
    let match = inOrder.next().value;
    if (match === declaration) continue;
    if (match?.id !== id) match = one.declarations.get(name);
    if (match?.id !== id || match.node.kind.text !== node.kind.text) return false;
  }
  if (one.namespaces.size !== other.namespaces.size) return false;
  for (const [name, scope] of other.namespaces)
    if (one.namespaces.get(name)?.file.uri !== scope.file.uri) return false;
  return true;
}
