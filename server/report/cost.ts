/**
 * What the things a build uses cost together: price times quantity of each, by currency.
 *
 * Must not know: where it is written to.
 */
import type { Analysis, Value } from "../analysis/analysis";
import type { Thing } from "../model/thing";
import { thingsInUse } from "./in-use";

export interface Cost {
  /** By currency, alphabetical; empty where nothing in use has a price. */
  readonly total: readonly {
    readonly currency: string;
    readonly amount: number;
    readonly price: Value;
  }[];
  readonly lines: readonly {
    readonly thing: Thing;
    readonly quantity: number;
    readonly price: Value;
  }[];
  /** Paths of things in use that could have a price and have none. */
  readonly unpriced: readonly string[];
}

/** `variants` are all readings of the build, the one to be priced among them. */
export function costOf(analysis: Analysis, variants: readonly Analysis[]): Cost {
  const lines: { thing: Thing; quantity: number; price: Value }[] = [];
  const unpriced: string[] = [];
  for (const thing of thingsInUse(analysis, variants)) {
    const field = thing.kind.fields.get("price");
    if (field?.type.form !== "measure" || field.type.measure.name !== "money") continue;
    const price = analysis.values.get(`${thing.path}.price`);
    if (price?.si === undefined) {
      if (!thing.implied) unpriced.push(thing.path);
      continue;
    }
    lines.push({ thing, price, quantity: analysis.values.get(`${thing.path}.quantity`)?.si ?? 1 });
  }
  const totals = new Map<string, { currency: string; amount: number; price: Value }>();
  for (const { price, quantity } of lines) {
    const currency = (price.currency ?? "").toUpperCase();
    const total = totals.get(currency) ?? { currency, amount: 0, price };
    totals.set(currency, { ...total, amount: total.amount + (price.si ?? 0) * quantity });
  }
  return {
    lines,
    unpriced,
    total: [...totals.values()].sort((one, other) => (one.currency < other.currency ? -1 : 1)),
  };
}
