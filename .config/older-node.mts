/**
 * Lets the bundles run on Node 20: the parser library groups with `Object.groupBy`, which that
 * version lacks. The bundler puts this file into every bundle.
 */
Object.groupBy ??= function groupBy<Key extends PropertyKey, Item>(
  items: Iterable<Item>,
  keyOf: (item: Item, index: number) => Key,
): Partial<Record<Key, Item[]>> {
  const groups: Partial<Record<Key, Item[]>> = Object.create(null);
  let index = 0;
  for (const item of items) {
    const key = keyOf(item, index++);
    const group = groups[key];
    if (group === undefined) groups[key] = [item];
    else group.push(item);
  }
  return groups;
};
