/**
 * Keeps what was made by a key that says all it was made of, as many as were asked for last.
 *
 *     const cells = new Kept<Cell>(1_000); cells.get(key, () => solveCell(…))
 *
 * Must not know: what is kept.
 */
export class Kept<V> {
  private readonly map = new Map<string, V>();

  constructor(private readonly most: number) {}

  get(key: string, make: () => V): V {
    const before = this.map.get(key);
    if (before !== undefined) {
      // What is asked for again goes to the end of the row.
      this.map.delete(key);
      this.map.set(key, before);
      return before;
    }
    const made = make();
    this.map.set(key, made);
    if (this.map.size > this.most) {
      const oldest = this.map.keys().next();
      if (oldest.done === false) this.map.delete(oldest.value);
    }
    return made;
  }

  get size(): number {
    return this.map.size;
  }
}
