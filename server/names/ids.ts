/**
 * What things and figures are called once and for all: a thing by its file and its path within
 * it, a figure by its thing and field. The same text has the same ids in every build, whatever
 * prefix a build gives to the file, so that what is known of one reading holds for the next.
 *
 *     ids.thing("file:///shop/parts.trammel", "disc").figure("hat_thickness")
 *
 * Must not know: whether such a thing or field is there at all.
 */
import { SmallMap } from "../keep/small-map";

export class ThingId {
  private readonly figures = new SmallMap<string, FigureId>();
  private readonly inner = new SmallMap<string, ThingId>();

  constructor(
    readonly uri: string,
    /** Within the file: `rear.left`. */
    readonly path: string,
    /** The last of its names: a field, a thing inside, or `passes.2` of a list. */
    readonly step: string,
    readonly owner: ThingId | undefined,
  ) {}

  /** The thing at the top of the file that it belongs to. */
  get top(): ThingId {
    let top: ThingId = this;
    while (top.owner !== undefined) top = top.owner;
    return top;
  }

  inside(step: string): ThingId {
    let found = this.inner.get(step);
    if (found === undefined) {
      found = new ThingId(this.uri, `${this.path}.${step}`, step, this);
      this.inner.set(step, found);
    }
    return found;
  }

  /** `key` is a field, or a part of a designation: `size.width`. */
  figure(key: string): FigureId {
    let found = this.figures.get(key);
    if (found === undefined) {
      found = new FigureId(this, key);
      this.figures.set(key, found);
    }
    return found;
  }

  /** Every figure of it that was ever spoken of. */
  get known(): Iterable<FigureId> {
    return this.figures.values();
  }

  /** How many these are. */
  get spoken(): number {
    return this.figures.size;
  }

  /** Itself and every thing in it that was ever spoken of. */
  *all(): Generator<ThingId> {
    yield this;
    for (const inner of this.inner.values()) yield* inner.all();
  }
}

let figures = 0;

export class FigureId {
  /** Of this process alone; for keys of what is kept. */
  readonly serial = figures++;
  /** `rear.left.half`, whatever file it is in. */
  readonly name: string;

  constructor(
    readonly thing: ThingId,
    readonly key: string,
  ) {
    this.name = `${thing.path}.${key}`;
  }

  /** Decides between equals. */
  get file(): string {
    return this.thing.uri;
  }
}

/** The ids of one process. */
export class Ids {
  private readonly files = new Map<string, Map<string, ThingId>>();

  /** A thing at the top of a file. */
  thing(uri: string, name: string): ThingId {
    let file = this.files.get(uri);
    if (file === undefined) {
      file = new Map();
      this.files.set(uri, file);
    }
    let found = file.get(name);
    if (found === undefined) {
      found = new ThingId(uri, name, name, undefined);
      file.set(name, found);
    }
    return found;
  }

  /** Lets go of a file; who still holds its ids may go on with them. */
  forget(uri: string): void {
    this.files.delete(uri);
  }
}
