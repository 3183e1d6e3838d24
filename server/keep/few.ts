/**
 * A set that most often holds one value or none, and then costs little more than that value.
 *
 *     const few = new Few<string>(); few.add("log.trammel"); few.meets(renamed)
 *
 * Must not know: what is kept.
 */
import { anyIn } from "./any-in";

export class Few<T extends object | string | number> {
  private first: T | undefined;
  /** All of them, where there are several. */
  private several: Set<T> | undefined;

  /** Whether it was not there before. */
  add(value: T): boolean {
    const { size } = this;
    if (this.several !== undefined) this.several.add(value);
    else if (this.first === undefined) this.first = value;
    else if (this.first !== value) this.several = new Set([this.first, value]);
    return this.size > size;
  }

  get size(): number {
    return this.several?.size ?? (this.first === undefined ? 0 : 1);
  }

  *[Symbol.iterator](): Generator<T> {
    if (this.several !== undefined) yield* this.several;
    else if (this.first !== undefined) yield this.first;
  }

  every(holds: (value: T) => boolean): boolean {
    if (this.several === undefined) return this.first === undefined || holds(this.first);
    for (const value of this.several) if (!holds(value)) return false;
    return true;
  }

  visit(each: (value: T) => void): void {
    if (this.several !== undefined) for (const value of this.several) each(value);
    else if (this.first !== undefined) each(this.first);
  }

  meets(others: ReadonlySet<T>): boolean {
    if (this.several !== undefined) return anyIn(this.several, others);
    return this.first !== undefined && others.has(this.first);
  }
}
