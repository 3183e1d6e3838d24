/** Systems with each figure in a unit of its own. */
import type { Condition, Expression } from "../../server/solve/expression";
import type { GivenNumber, System } from "../../server/solve/system";

type Factors = readonly number[];

function termIn(expression: Expression, own: Factors): Expression {
  switch (expression.op) {
    case "number":
      return expression;
    case "slot":
      return {
        op: "divide",
        left: expression,
        right: { op: "number", value: own[expression.index]! },
      };
    case "negate":
    case "lookup":
      return { ...expression, of: termIn(expression.of, own) };
    case "call":
      return { ...expression, of: expression.of.map((part) => termIn(part, own)) };
    case "if":
      return {
        ...expression,
        condition: conditionIn(expression.condition, own),
        then: termIn(expression.then, own),
        else: termIn(expression.else, own),
      };
    default:
      return {
        ...expression,
        left: termIn(expression.left, own),
        right: termIn(expression.right, own),
      };
  }
}

export function conditionIn(condition: Condition, own: Factors): Condition {
  switch (condition.op) {
    case "always":
      return condition;
    case "not":
      return { op: "not", of: conditionIn(condition.of, own) };
    case "compare":
      return {
        ...condition,
        left: termIn(condition.left, own),
        right: termIn(condition.right, own),
      };
    default:
      return {
        ...condition,
        left: conditionIn(condition.left, own),
        right: conditionIn(condition.right, own),
      };
  }
}

export function inUnits({ variables, equations }: System, factors: Factors): System {
  return {
    variables: variables.map((variable, v) => {
      const by = factors[v]!;
      const { given, wish, making, range, near, scale } = variable;
      const times = ({ value, low, high, rounding, ...rest }: GivenNumber): GivenNumber => ({
        ...rest,
        value: value * by,
        low: low * by,
        high: high * by,
        rounding: rounding * by,
      });
      return {
        ...variable,
        scale: scale * by,
        ...(given === undefined ? {} : { given: times(given) }),
        ...(wish === undefined ? {} : { wish: times(wish) }),
        ...(making === undefined
          ? {}
          : {
              making: {
                ...making,
                off: making.off * by,
                ...(making.step === undefined ? {} : { step: making.step * by }),
              },
            }),
        ...(range === undefined ? {} : { range: [range[0] * by, range[1] * by] as const }),
        ...(near === undefined ? {} : { near: near * by }),
      };
    }),
    equations: equations.map((equation) => {
      const own = equation.variables.map((variable) => factors[variable]!);
      const { left, right, slots } = equation.form;
      return {
        ...equation,
        form: { left: termIn(left, own), right: termIn(right, own), slots },
        ...(equation.when === undefined ? {} : { when: conditionIn(equation.when, own) }),
      };
    }),
  };
}

/** Powers of two from 2⁻¹² to 2¹². */
export function factorsFor({ variables }: System, seed: number): number[] {
  let state = seed + 1;
  return variables.map(() => {
    state = (state * 48271) % 2147483647;
    return 2 ** ((state % 25) - 12);
  });
}
