/**
 * How a name is read, whoever asks: in what it stands in, then in what that is part of, then among
 * the names of its file. What there is to be followed, things of a build or kinds where nothing was
 * made of them, is told by a `NameWorld`.
 *
 *     firstStep(world, rear, scope, "wheel")   →   the field `wheel` of `rear`
 *
 * Must not know: what fields hold, how what was found is told.
 */

/** One step of the way: where a single name leads. */
export type NameStep<Holder, Field, Names> =
  /** Declared inside, or at the top of a file; or what it stands in itself, by `owner`. */
  | { readonly is: "thing"; readonly holder: Holder }
  | { readonly is: "field"; readonly holder: Holder; readonly field: Field }
  /** Of `both`: the fields it stands for. */
  | { readonly is: "both"; readonly holder: Holder; readonly twins: readonly Field[] }
  /** A file used `as` a name. */
  | { readonly is: "file"; readonly names: Names; readonly name: string };

export interface NameWorld<Holder, Field, Names> {
  ownerOf(holder: Holder): Holder | undefined;
  fieldOf(holder: Holder, name: string): Field | undefined;
  childOf(holder: Holder, name: string): Holder | undefined;
  /** The two fields that `both` stands for; none where the holder has no such pair. */
  twinsOf(holder: Holder): readonly Field[];
  /** What a file declares or uses under a name. */
  inFile(
    names: Names,
    name: string,
  ): Extract<NameStep<Holder, Field, Names>, { is: "thing" | "file" }> | undefined;
}

/** The word for what a thing is part of. */
export const owner = "owner";
/** The word for two parts alike. */
export const both = "both";

/** Where the first of some names leads from inside `holder`; `names`: those of the file it stands in. */
export function firstStep<Holder, Field, Names>(
  world: NameWorld<Holder, Field, Names>,
  holder: Holder | undefined,
  names: Names | undefined,
  name: string,
): NameStep<Holder, Field, Names> | undefined {
  const around = holder === undefined ? undefined : world.ownerOf(holder);
  if (name === owner && holder !== undefined && around !== undefined) {
    if (world.fieldOf(holder, owner) === undefined) return { is: "thing", holder: around };
  }
  for (let inside = holder; inside !== undefined; inside = world.ownerOf(inside)) {
    const step = stepInside(world, inside, name);
    if (step !== undefined) return step;
  }
  return names === undefined ? undefined : world.inFile(names, name);
}

/** Where one name leads inside of a thing itself: fields come before what is declared in it. */
export function stepInside<Holder, Field, Names>(
  world: NameWorld<Holder, Field, Names>,
  holder: Holder,
  name: string,
): NameStep<Holder, Field, Names> | undefined {
  const field = world.fieldOf(holder, name);
  if (field !== undefined) return { is: "field", holder, field };
  const child = world.childOf(holder, name);
  if (child !== undefined) return { is: "thing", holder: child };
  const twins = name === both ? world.twinsOf(holder) : [];
  return twins.length === 0 ? undefined : { is: "both", holder, twins };
}
