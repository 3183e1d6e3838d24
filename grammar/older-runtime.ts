/**
 * One function that chevrotain calls and Node 20 lacks, added only where it is missing.
 *
 *     import "./older-runtime";
 *
 * Must not know: anything of the language.
 */
const missing: { groupBy?: typeof Object.groupBy } = Object;

missing.groupBy ??= <Key extends PropertyKey, Item>(
  items: Iterable<Item>,
  keyOf: (item: Item, index: number) => Key,
): Partial<Record<Key, Item[]>> => {
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
