/**
 * Keeps what was made by a key that says all it was made of: what was asked for last, as much as
 * weighs no more than `most` together.
 *
 *     const cells = new Kept<Cell>(10_000, (cell) => cell.equations.length); cells.get(key, () => solveCell(…))
 *
 * Must not know: what is kept.
 */
export class Kept<V> {
  private readonly map = new Map<string, V>();
  private weight = 0;

  constructor(
    private readonly most: number,
    /** Says the same of a value each time. */
    private readonly weigh: (value: V) => number = () => 1,
  ) {}

  /** However heavy a value is, it and a few like it are kept. */
  private weightOf(value: V): number {
    return Math.min(this.weigh(value), Math.max(1, this.most / 4));
  }

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
    this.weight += this.weightOf(made);
    for (const [oldest, value] of this.map) {
      if (this.weight <= this.most) break;
      this.map.delete(oldest);
      this.weight -= this.weightOf(value);
    }
    return made;
  }

  get size(): number {
    return this.map.size;
  }
}
