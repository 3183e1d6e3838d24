/**
 * Figures that say how surely others are made: a field declared `with shop.saw` takes its step and its
 * ± from the field `saw` of the build's thing of kind `shop`, where there is one. That kind says
 * `with "every build"`.
 *
 *     saw: 1/64 in ± 1/64 in   →   made to 1/64 in, ± 1/64 in
 *
 * Must not know: which kinds these are, how the things of a build are found.
 */
import type { FieldDefinition, KindDefinition } from "./definition";
import type { ModelVariable } from "./model";

export interface HeldBy {
  readonly kind: string;
  readonly field: string;
}

/** What a field's `with` names; nothing for a text that is no kind and field. */
export function heldBy({ with: said }: FieldDefinition): HeldBy | undefined {
  const [kind = "", field = "", ...more] = said?.split(".") ?? [];
  return kind === "" || field === "" || more.length > 0 ? undefined : { kind, field };
}

/** Its things speak for the whole build: they count wherever they stand, named or not. */
export function speaksForAll(kind: KindDefinition | undefined): boolean {
  return kind?.remarks.with === "every build";
}

/** The figure made to the step and the ± of another, but for what its own line says. */
export function madeAs(variable: ModelVariable, holder: ModelVariable): ModelVariable {
  const { thing, id, entry } = variable;
  const { making } = variable.variable;
  const { figure } = holder;
  if (making === undefined || figure === undefined) return variable;
  const said = entry ?? thing.asked.get(id.key);
  const step = said?.step === undefined && figure.value > 0 ? { step: figure.value } : {};
  const own = said?.tolerance !== undefined || !figure.toleranced;
  const off = own ? {} : { off: (figure.high - figure.low) / 2, offShare: 0 };
  return {
    ...variable,
    madeBy: holder.name,
    variable: { ...variable.variable, making: { ...making, ...step, ...off } },
  };
}
