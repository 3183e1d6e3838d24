/**
 * One group of a build, elaborated and solved: its values, checks, asks and findings.
 *
 * Must not know: files as a whole, other groups, how anything is shown.
 */
import { type Anchor, textAt } from "../model/anchor";
import type { Write } from "../model/build-things";
import type { FieldDefinition, Vocabulary } from "../model/definition";
import { elaborate } from "../model/elaborate";
import { type Finding, Findings } from "../model/finding";
import type { FormPool } from "../model/kind-environment";
import type { Model, ModelClaim, ModelEquation, ModelVariable } from "../model/model";
import type { Thing } from "../model/thing";
import { fitFor, missingFor, solve, spreadOf, verdictOf } from "../solve";
import type { Fit, Plan, Solution, Spread } from "../solve/system";
import { type DisplayStyle, displayOf, readUnit } from "../units";
import type {
  AskedValue,
  CheckResult,
  Levels,
  MissingValue,
  Need,
  Reason,
  Standing,
  Value,
} from "./analysis";
import { checkFinding, conflictFinding, failureFinding, missingMessage } from "./findings";
import type { Group, Placed } from "./groups";
import { Writer } from "./wording";

/** Which members are laid over the spec. */
export type Overlay =
  | { readonly is: "spec" }
  | { readonly is: "option"; readonly name: string }
  | { readonly is: "as built" };

export interface GroupInput {
  readonly group: Group;
  readonly overlay: Overlay;
  readonly vocabulary: Vocabulary;
  readonly pool: FormPool;
  readonly style: DisplayStyle;
  readonly levels: Levels;
  /** The plan of the same group before an edit; reused where its shape is the same. */
  readonly plan?: Plan;
}

export class GroupResult {
  readonly model: Model;
  readonly solution: Solution;
  readonly values: readonly Value[];
  readonly asked: readonly AskedValue[];
  readonly checks: readonly CheckResult[];
  readonly missing: readonly MissingValue[];
  readonly findings: readonly Finding[];
  private readonly byVariable: Value[] = [];
  private readonly spreads = new Map<number, Spread | undefined>();
  private readonly writer: Writer;

  constructor(readonly input: GroupInput) {
    const { group, overlay, pool, vocabulary, plan } = input;
    this.writer = new Writer(input.style);
    this.model = elaborate({
      declarations: group.members.flatMap(({ declaration }) =>
        declaration === undefined ? [] : [declaration],
      ),
      statements: group.members.filter(({ item }) =>
        ["check", "relation", "curve"].includes(item.node.type),
      ),
      writes: writesOf(group.members, overlay),
      vocabulary,
      pool,
    });
    this.solution = solve(this.model, plan);
    for (const index of this.model.variables.keys()) this.byVariable.push(this.valueOf(index));
    this.values = this.inThingOrder();
    this.asked = this.model.asks.map((ask) => this.askedValue(ask.variable, ask.entry.anchor));
    this.checks = this.model.claims.map((claim) => this.check(claim));
    this.missing = this.asked.flatMap((asked) =>
      asked.value.standing === "missing" ? [this.missingValue(asked)] : [],
    );
    this.findings = this.collectFindings();
  }

  valueAt(path: string): Value | undefined {
    const index = this.model.variableAt(path);
    if (index !== undefined) return this.byVariable[index];
    return this.wordsByPath().get(path);
  }

  /** The value of a variable by its index in the model. */
  valueOfVariable(index: number): Value | undefined {
    return this.byVariable[index];
  }

  // ── values ──

  private valueOf(index: number): Value {
    const variable = this.model.variables[index] as ModelVariable;
    const si = this.solution.values[index];
    const known = si !== undefined && Number.isFinite(si);
    const self = this;
    let reason: Reason | undefined;
    let reasonMade = false;
    return {
      path: variable.name,
      thing: variable.thing,
      field: variable.part === undefined ? variable.field : variable.part,
      measure: variable.measure,
      si: known ? si : undefined,
      standing: this.standingOf(index, variable),
      anchor: variable.entry?.anchor ?? this.askAnchor(index),
      currency: variable.figure?.currency,
      get reason() {
        if (!reasonMade) reason = self.reasonOf(index);
        reasonMade = true;
        return reason;
      },
      get restsOn() {
        return self.restsOn(index);
      },
      spread: () => this.spreadOf(index),
      contributors: () =>
        (this.spreadOf(index)?.contributors ?? []).map(
          ({ variable: other, below, above, share }) => ({
            path: this.model.variables[other]?.name ?? "",
            below,
            above,
            share,
          }),
        ),
    };
  }

  private standingOf(index: number, variable: ModelVariable): Standing {
    const determination = this.solution.determinations[index];
    switch (determination?.how) {
      case "given":
        return variable.entry?.layer === "record" ? "measured" : "given";
      case "solved":
      case "assumed":
        return determination.how;
      default:
        return "missing";
    }
  }

  private askAnchor(index: number): Anchor | undefined {
    return this.model.asks.find((ask) => ask.variable === index)?.entry.anchor;
  }

  private reasonOf(index: number): Reason | undefined {
    const determination = this.solution.determinations[index];
    if (determination?.how !== "solved" && determination?.how !== "assumed") return undefined;
    const equation = this.model.equations[determination.equation];
    if (equation === undefined) return undefined;
    return {
      ...this.describe(equation),
      inputs: equation.variables
        .filter((other) => other !== index)
        .map((other) => this.model.variables[other]?.name ?? ""),
      together: determination.block.map((other) => this.titleOf(other)),
    };
  }

  private describe({ origin }: ModelEquation): Omit<Reason, "inputs" | "together"> {
    switch (origin.is) {
      case "relation": {
        const { relation } = origin;
        const { left, right } = relation.node;
        return {
          title: relation.title,
          kind: relation.assumed ? "assumed relation" : "relation",
          formula: textAt({
            ...relation.anchor,
            span: { start: left.span.start, end: right.span.end },
          }).replaceAll(/\s+/g, " "),
          remarks: relation.remarks,
          anchor: relation.anchor,
        };
      }
      case "formula":
        return {
          title: "as written in the build",
          kind: "formula",
          formula: `${origin.entry.field.text} = ${textAt(origin.entry.anchor)}`,
          remarks: {},
          anchor: origin.entry.anchor,
        };
      case "default":
        return {
          title: `default of ${origin.field.name}`,
          kind: "default",
          formula: `${origin.field.name} = ${defaultText(origin.field)}`,
          remarks: { source: origin.field.source },
          anchor: origin.field.anchor,
        };
    }
  }

  private titleOf(equation: number): string {
    const found = this.model.equations[equation];
    return found === undefined ? "" : this.describe(found).title;
  }

  private restsOn(index: number): string[] {
    const determination = this.solution.determinations[index];
    if (determination?.how !== "solved" && determination?.how !== "assumed") return [];
    return determination.restsOn.map((equation) => {
      const { origin } = this.model.equations[equation] as ModelEquation;
      if (origin.is === "relation") return origin.relation.title;
      const last = this.model.equations[equation]?.variables.at(-1) ?? -1;
      const value = this.byVariable[last];
      return value === undefined
        ? origin.thing.path
        : `${value.path} is ${this.writer.value(value.si, value.measure)}`;
    });
  }

  private spreadOf(index: number): Spread | undefined {
    if (!this.spreads.has(index)) {
      const known = Number.isFinite(this.solution.values[index]);
      this.spreads.set(
        index,
        known
          ? spreadOf(this.solution, { expression: { op: "slot", index: 0 }, variables: [index] })
          : undefined,
      );
    }
    return this.spreads.get(index);
  }

  private inThingOrder(): Value[] {
    const order = new Map<Thing, number>(this.model.things.map((thing, index) => [thing, index]));
    const fieldOrder = (value: Value): number =>
      [...value.thing.kind.fields.keys()].indexOf(
        value.path.slice(value.thing.path.length + 1).split(/[.[]/)[0] ?? "",
      );
    const all = [...this.byVariable, ...this.wordsByPath().values()];
    return all
      .map((value) => ({
        value,
        thing: order.get(value.thing) ?? order.size,
        field: fieldOrder(value),
      }))
      .sort(
        (one, other) =>
          one.thing - other.thing ||
          one.field - other.field ||
          (one.value.path < other.value.path ? -1 : 1),
      )
      .map(({ value }) => value);
  }

  private words: ReadonlyMap<string, Value> | undefined;

  private wordsByPath(): ReadonlyMap<string, Value> {
    this.words ??= new Map(
      [...this.model.words].map(([path, word]) => [
        path,
        {
          path,
          thing: word.thing,
          field: word.field,
          word: word.value,
          standing: word.assumed
            ? ("assumed" as const)
            : word.entry?.layer === "record"
              ? ("measured" as const)
              : ("given" as const),
          anchor: word.entry?.anchor,
          restsOn: [],
          spread: () => undefined,
          contributors: () => [],
        },
      ]),
    );
    return this.words;
  }

  // ── asks and checks ──

  private askedValue(index: number, anchor: Anchor): AskedValue {
    const value = this.byVariable[index] as Value;
    return { value, anchor, needs: value.standing === "missing" ? this.needsOf(index) : [] };
  }

  private needsOf(index: number): (readonly Need[])[] {
    if (this.solution.determinations[index]?.how !== "open") return [];
    const seen = new Set<string>();
    const sets: Need[][] = [];
    for (const set of missingFor(this.solution, index)) {
      const needs = new Map<string, Need>();
      for (const other of set) {
        const variable = this.model.variables[other];
        if (variable === undefined) continue;
        // A part of a designation is settled by writing the designation.
        const path =
          variable.part === undefined
            ? variable.name
            : `${variable.thing.path}.${variable.field.name}`;
        needs.set(path, { path, advice: variable.field.needs });
      }
      const key = [...needs.keys()].sort().join(" ");
      if (needs.size === 0 || seen.has(key)) continue;
      seen.add(key);
      sets.push([...needs.values()]);
    }
    return sets;
  }

  private missingValue({ value, anchor, needs }: AskedValue): MissingValue {
    return { path: value.path, message: missingMessage(value, needs), needs, anchor };
  }

  private check(claim: ModelClaim): CheckResult {
    const { check, thing } = claim;
    const verdict = claim.applies
      ? verdictOf(this.solution, claim)
      : ({ nominal: "unknown", rss: "unknown", worst: "unknown", open: [] } as const);
    return {
      title: check.title,
      code:
        check.remarks.code ?? (claim.own ? "check/own" : `check/${thing?.kind.name ?? "build"}`),
      thing,
      own: claim.own,
      verdict,
      condition: textAt({ ...check.anchor, span: check.node.condition.span }).replaceAll(
        /\s+/g,
        " ",
      ),
      remarks: check.remarks,
      anchor: check.anchor,
      place: claim.own ? check.anchor : (anchorOfThing(thing) ?? check.anchor),
      inputs: claim.variables.map((index) => this.model.variables[index]?.name ?? ""),
      fits: () => this.fits(claim),
    };
  }

  private fits(claim: ModelClaim): (Fit & { path: string; shown: string })[] {
    if (!claim.applies) return [];
    return fitFor(this.solution, claim, (index) => this.incrementOf(index)).map((fit) => {
      const variable = this.model.variables[fit.variable];
      return {
        ...fit,
        path: variable?.name ?? "",
        shown: this.writer.fine(fit.value, variable?.measure),
      };
    });
  }

  /** The step a builder can work to; none for what is not theirs to change. */
  private incrementOf(index: number): number | undefined {
    const variable = this.model.variables[index];
    if (
      variable?.figure === undefined ||
      variable.entry === undefined ||
      variable.part !== undefined
    )
      return undefined;
    const display = displayOf(variable.measure, this.input.style);
    const unit = display.unit === "" ? undefined : readUnit(display.unit, variable.measure);
    const step = display.increment?.step;
    if (step !== undefined) return step * (unit?.factor ?? 1);
    const size = Math.abs(variable.figure.value);
    return size === 0 ? variable.scale : 10 ** (Math.floor(Math.log10(size)) - 2);
  }

  // ── findings ──

  private collectFindings(): Finding[] {
    const findings = new Findings();
    for (const finding of this.model.findings) findings.add(finding);
    const context = { model: this.model, solution: this.solution, writer: this.writer };
    for (const conflict of this.solution.conflicts) {
      const finding = conflictFinding(conflict, context);
      if (finding !== undefined) findings.add(finding);
    }
    for (const [index, failure] of this.solution.failures.entries()) {
      const finding = failureFinding(failure, index, context);
      if (finding !== undefined) findings.add(finding);
    }
    for (const [index, check] of this.checks.entries()) {
      const finding = checkFinding(
        check,
        this.model.claims[index] as ModelClaim,
        this.input.levels,
        context,
      );
      if (finding !== undefined) findings.add(finding);
    }
    for (const missing of this.missing) {
      findings.add({
        code: "missing/value",
        severity: "warning",
        message: missing.message,
        anchor: missing.anchor,
      });
    }
    return findings.list;
  }
}

/** Where the builder opened the thing, or the nearest owner of it that was opened. */
export function anchorOfThing(thing: Thing | undefined): Anchor | undefined {
  for (let at = thing; at !== undefined; at = at.owner)
    if (at.anchor !== undefined) return at.anchor;
  return undefined;
}

// ───────────────────────────── helpers ─────────────────────────────

function writesOf(members: readonly Placed[], overlay: Overlay): Write[] {
  const writes: Write[] = [];
  for (const { item, scope } of members) {
    if (item.node.type === "given") writes.push({ node: item.node, item, scope, layer: "spec" });
  }
  for (const { item, scope } of members) {
    const { node } = item;
    if (node.type === "option" && overlay.is === "option" && node.name.text === overlay.name) {
      for (const member of node.members) {
        if (member.type === "given" || member.type === "part")
          writes.push({ node: member, item, scope, layer: "option" });
      }
    }
    if (node.type === "record" && overlay.is === "as built") {
      for (const member of node.members) {
        if (member.type === "given" || member.type === "part") {
          writes.push({ node: member, item, scope, layer: "record", date: node.date?.text });
        }
      }
    }
  }
  return writes;
}

function defaultText(field: FieldDefinition): string {
  const node = field.default;
  return node === undefined ? "" : textAt({ ...field.anchor, span: node.span });
}
