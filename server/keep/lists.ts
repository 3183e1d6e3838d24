/**
 * Lists by what they are about, in the order in which the first of each came; empty where nothing is.
 *
 *     const byStep = new Lists<Step, Event>(); byStep.add(step, event); byStep.of(other)   →   []
 *
 * Must not know: what is in them.
 */
export class Lists<K, V> {
  private readonly lists = new Map<K, V[]>();

  add(about: K, value: V): void {
    const list = this.lists.get(about);
    if (list === undefined) this.lists.set(about, [value]);
    else list.push(value);
  }

  of(about: K): readonly V[] {
    return this.lists.get(about) ?? none;
  }

  has(about: K): boolean {
    return this.lists.has(about);
  }

  values(): Iterable<readonly V[]> {
    return this.lists.values();
  }

  [Symbol.iterator](): Iterator<[K, readonly V[]]> {
    return this.lists.entries();
  }
}

const none: readonly never[] = [];
