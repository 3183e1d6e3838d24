/**
 * What is said of figures and readings that contradict each other.
 *
 * Must not know: how a contradiction is found.
 */
import type { Anchor } from "../../grammar/anchor";
import { differenceOf, type Measure } from "../units";
import { andList, orList } from "./phrases";
import type { Family } from "./said";
import type { Shown } from "./writer";

/** A figure that takes part in a contradiction. */
export interface ContradictedFigure extends Shown {
  /** Nobody wrote it: a default stands there. */
  readonly assumed: boolean;
  /** What it would have to be, where changing it alone makes all agree and is the builder's to do. */
  readonly needed?: number;
  readonly measured: boolean;
  /** A maker states it: to change it takes another part. */
  readonly bought: boolean;
  /** Where it is written, but for the one that the finding stands at. */
  readonly elsewhere?: Anchor;
}

export const conflicts = {
  "record/misclosure": (
    {
      parties,
      gap,
      explained,
      suspect,
      again,
      best,
      elsewhere,
    }: {
      readonly parties: readonly Shown[];
      /** How far apart they are, in the unit of the relation that joins them. */
      readonly gap: { readonly si: number; readonly measure: Measure };
      readonly explained: number;
      /** The one that is likely wrong, with what the others make it. */
      readonly suspect?: Shown;
      /** The one whose further reading tells most. */
      readonly again?: Shown;
      /** What all together make of each. */
      readonly best: readonly Shown[];
      readonly elsewhere: readonly { readonly path: string; readonly anchor: Anchor }[];
    },
    writer,
  ) => {
    const list = andList(parties.map((each) => `${each.path} ${writer.like(each, each.si)}`));
    const [apart, room] = writer.together([gap.si, explained], differenceOf(gap.measure));
    const until = andList(best.map((each) => `${each.path} ${writer.fine(each.si, each.measure)}`));
    return {
      severity: "error",
      message: `these readings do not agree: ${list}; they are ${apart} apart, ${room} is what their ± explains`,
      hint:
        suspect === undefined
          ? `each is as suspect as the others: one more reading of ${again?.path} tells which; until then the best there is: ${until}`
          : `most likely it is ${suspect.path}, which the others make ${writer.fine(suspect.si, suspect.measure)}: measure it again`,
      related: elsewhere.map(({ path, anchor }) => ({ anchor, message: `${path} is given here` })),
    };
  },
  "conflict/givens": (
    {
      givens,
      formulas,
      title,
      relations = [],
      gap,
      held,
      clashes,
      repairs,
    }: {
      readonly givens: readonly ContradictedFigure[];
      /** Formulas of the builder's own, as written: `p.half: width / 4`. */
      readonly formulas: readonly string[];
      /** Of the relation that cannot hold. */
      readonly title?: string;
      /** All relations that take part, it among them. */
      readonly relations?: readonly string[];
      /** How far apart they are. */
      readonly gap?: { readonly si: number; readonly measure?: Measure };
      /** Defaults that hold as firmly as what is written: asking for one that is no constant frees it. */
      readonly held: readonly (Shown & { readonly constant: boolean })[];
      /** How many contradictions hang together with it, itself among them. */
      readonly clashes: number;
      /** Changes that mend all of these at once; a figure without a value is left out. */
      readonly repairs: readonly (readonly Shown[])[];
    },
    writer,
  ) => {
    // In the unit of a figure that is written, where the gap measures the same as that figure.
    const alike = givens.find((each) => each.measure.name === gap?.measure?.name);
    const apart = gap?.measure && differenceOf(gap.measure);
    const missed =
      apart === gap?.measure && alike !== undefined ? alike : apart && { measure: apart };
    const size = gap && Math.abs(gap.si);
    const figures = [...givens, ...held].map((each) => ({ as: each, si: each.si }));
    const texts = writer.alike([
      ...figures,
      ...(missed === undefined ? [] : [{ as: missed, si: size }]),
    ]);
    const list = andList([
      ...givens.map(
        ({ path, assumed }, index) => `${path} ${texts[index]}${assumed ? " (assumed)" : ""}`,
      ),
      ...formulas,
      ...held.map(
        ({ path, constant }, index) =>
          `${path} ${texts[givens.length + index]} (${constant ? "a constant" : "assumed"})`,
      ),
    ]);
    const misses =
      gap === undefined ? undefined : (texts[figures.length] ?? writer.fine(size, undefined));
    const by = title === undefined ? "" : ` by “${title}”`;
    // What the shop makes is made otherwise more easily than another part is found.
    const needed = givens.filter((each) => each.needed !== undefined);
    const mends = [
      ...needed.filter(({ bought }) => !bought),
      ...needed.filter((each) => each.bought),
    ];
    const changes = [
      ...mends.map(
        (each) =>
          `${each.path} would have to be ${writer.like(each, each.needed)}${each.bought ? " (another part)" : ""}`,
      ),
      ...held.flatMap(({ path, constant }) =>
        constant ? [] : [`ask for ${path}: write \`${path}: ?\``],
      ),
    ];
    const read = givens.filter(({ measured }) => measured);
    if (read.length > 0) changes.push(`measure ${orList(read.map(({ path }) => path))} again`);
    const together = repairs.map((figures) =>
      andList(
        figures.map((each) =>
          each.si === undefined
            ? `leaving ${each.path} out`
            : `${each.path} ${writer.like(each, each.si)}`,
        ),
      ),
    );
    const count = givens.length + formulas.length + held.length;
    if (count === 0) {
      // No figure takes part: relations alone say what cannot be.
      const named = andList([...new Set(relations)].slice(0, 4).map((each) => `“${each}”`));
      const one = relations.length < 2;
      return {
        message: `${one ? `this cannot hold: ${named}` : `these relations cannot all hold: ${named}`}${misses === undefined ? "" : one ? `, it misses by ${misses}` : `; they miss by ${misses}`}`,
        hint: one ? "change it, or leave it out" : "change one of them, or leave it out",
      };
    }
    const all = clashes === 2 ? "both" : `all ${clashes}`;
    const mendAll = repairs[0]?.length === 1 ? "one change mends" : "together these mend";
    return {
      message:
        count <= 1
          ? `this cannot hold${by}: ${list}${misses === undefined ? "" : `, it misses by ${misses}`}`
          : `these cannot all hold${by}: ${list}${misses === undefined ? "" : `; they miss by ${misses}`}`,
      hint:
        (changes.length === 0
          ? "leave one of them out, and it is solved from the others"
          : changes.length === 1
            ? read.length > 0
              ? `${changes[0]}`
              : `to agree, ${changes[0]}`
            : `change one: ${orList(changes)}`) +
        (together.length === 0
          ? ""
          : `; ${mendAll} ${all} contradictions: ${together.join(", or ")}`),
      related: givens.flatMap(({ path, elsewhere }) =>
        elsewhere === undefined ? [] : [{ anchor: elsewhere, message: `${path} is given here` }],
      ),
    };
  },
} satisfies Family;
