/**
 * One group of a build, elaborated and solved: its values, checks, asks and findings.
 *
 * Must not know: files as a whole, other groups, how anything is shown.
 */
import type { Anchor } from "../model/anchor";
import type { Vocabulary } from "../model/definition";
import { elaborate } from "../model/elaborate";
import { type Finding, Findings } from "../model/finding";
import type { FormPool } from "../model/kind-environment";
import { readFigure } from "../model/literal";
import type { Model, ModelClaim } from "../model/model";
import type { Thing } from "../model/thing";
import { missingFor, solve, solveOverlay, spreadOf } from "../solve";
import type { Failure, GivenNumber, Plan, Solution, Spread } from "../solve/system";
import type { DisplayStyle } from "../units";
import type { AskedValue, CheckResult, Levels, MissingValue, Need, Value } from "./analysis";
import { checkResult, fitFixes } from "./check-result";
import { FigureValue } from "./figure-value";
import {
  checkFinding,
  conflictFinding,
  currencyFinding,
  type FindingContext,
  failureFinding,
  missingMessage,
  unjudgedFindings,
} from "./findings";
import type { Group } from "./groups";
import { type Overlay, recordWrites, writesOf } from "./overlay";
import { allotmentsOf, piecesInWords, stackFindings } from "./stacks";
import { Writer } from "./wording";

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

const mostKeptVariables = 5_000;

interface Kept {
  deref(): GroupResult | undefined;
}

/** What all groups of one reading have in common. */
export type GroupContext = Omit<GroupInput, "group" | "plan">;

export class GroupResult {
  readonly model: Model;
  readonly solution: Solution;
  private readonly figures: (Value | undefined)[] = [];
  private readonly spreads = new Map<number, Spread | undefined>();
  private readonly variants = new Map<string, Kept>();
  readonly writer: Writer;

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
      heldAgainst: overlay.is === "as built" ? [] : recordWrites(group.members),
      vocabulary,
      pool,
    });
    this.solution = solve(this.model, plan);
  }

  /** All values in the order of things and their fields. */
  get values(): readonly Value[] {
    return this.lazily("values", () => this.inThingOrder());
  }

  get asked(): readonly AskedValue[] {
    return this.lazily("asked", () =>
      this.model.asks.map((ask) => this.askedValue(ask.variable, ask.entry.anchor)),
    );
  }

  get checks(): readonly CheckResult[] {
    return this.lazily("checks", () => this.model.claims.map((claim) => checkResult(this, claim)));
  }

  get missing(): readonly MissingValue[] {
    return this.lazily("missing", () =>
      this.asked.flatMap((asked) =>
        asked.value.standing === "missing" ? [this.missingValue(asked)] : [],
      ),
    );
  }

  get findings(): readonly Finding[] {
    return this.lazily("findings", () => this.collectFindings());
  }

  /** The same group with something laid over it; itself where none of its members speak of that. */
  under(overlay: Overlay): GroupResult {
    if (!this.isTouchedBy(overlay)) return this;
    const key = overlay.is === "option" ? `option ${overlay.name}` : overlay.is;
    const kept = this.variants.get(key)?.deref();
    if (kept !== undefined) return kept;
    const made = new GroupResult({ ...this.input, overlay, plan: this.solution.plan });
    this.variants.set(key, this.keeping(made));
    return made;
  }

  /** A small variant is kept; of a large group each may be made again, so that many do not pile up. */
  private keeping(variant: GroupResult): Kept {
    const large = variant.model.variables.length > mostKeptVariables;
    return large ? new WeakRef(variant) : { deref: () => variant };
  }

  /** Names of the options written in it. */
  get optionNames(): ReadonlySet<string> {
    return this.lazily("option names", () => {
      const names = this.input.group.members.flatMap(({ item: { node } }) =>
        node.type === "option" ? [node.name.text] : [],
      );
      return new Set(names);
    });
  }

  private isTouchedBy(overlay: Overlay): boolean {
    switch (overlay.is) {
      case "spec":
        return false;
      case "option":
        return this.optionNames.has(overlay.name);
      case "as built":
        return this.input.group.members.some(({ item }) => item.node.type === "record");
    }
  }

  /** What goes wrong under an option and not without it. */
  findingsUnder(option: string): readonly Finding[] {
    return this.lazily(`findings under ${option}`, () => {
      const variant = this.under({ is: "option", name: option });
      if (variant === this) return [];
      const known = new Set(this.findings.map(({ code, message }) => `${code} ${message}`));
      return variant.findings.filter(({ code, message }) => !known.has(`${code} ${message}`));
    });
  }

  valueAt(path: string): Value | undefined {
    const index = this.model.variableAt(path);
    return index === undefined ? this.words().get(path) : this.figure(index);
  }

  private readonly once = new Map<string, unknown>();

  private lazily<T>(name: string, make: () => T): T {
    if (!this.once.has(name)) this.once.set(name, make());
    return this.once.get(name) as T;
  }

  // ── values ──

  /** The value of a variable by its index in the model. */
  figure(index: number): Value {
    const before = this.figures[index];
    if (before !== undefined) return before;
    const value = new FigureValue(this, index);
    this.figures[index] = value;
    return value;
  }

  /** `0.018 in + 0.007 in` for a figure that is put together from a kit. */
  piecesOf(index: number): string | undefined {
    if (this.model.stacks.length === 0) return undefined;
    const allotment = this.lazily("allotments", () => allotmentsOf(this)).get(index);
    return allotment === undefined ? undefined : piecesInWords(allotment, this.writer);
  }

  spreadOf(index: number): Spread | undefined {
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
    const thingOrder = new Map<Thing, number>(
      this.model.things.map((thing, index) => [thing, index]),
    );
    const fieldOrders = new Map<Thing["kind"], ReadonlyMap<string, number>>();
    const fieldOrder = ({ thing, path }: Value): number => {
      const order =
        fieldOrders.get(thing.kind) ??
        new Map([...thing.kind.fields.keys()].map((name, index) => [name, index]));
      fieldOrders.set(thing.kind, order);
      return order.get(path.slice(thing.path.length + 1).split(/[.[]/)[0] ?? "") ?? order.size;
    };
    const figures = this.model.variables.map((_, index) => this.figure(index));
    return [...figures, ...this.words().values()]
      .map((value) => ({
        value,
        thing: thingOrder.get(value.thing) ?? thingOrder.size,
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

  private words(): ReadonlyMap<string, Value> {
    return this.lazily("words", () => {
      const words = new Map<string, Value>();
      for (const [path, word] of this.model.words) {
        const measured = word.entry?.layer === "record";
        words.set(path, {
          path,
          thing: word.thing,
          field: word.field,
          word: word.value,
          standing: word.assumed ? "assumed" : measured ? "measured" : "given",
          anchor: word.entry?.anchor,
          restsOn: [],
          spread: () => undefined,
          contributors: () => [],
        });
      }
      return words;
    });
  }

  // ── asks ──

  private askedValue(index: number, anchor: Anchor): AskedValue {
    const value = this.figure(index);
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
    const failure = this.failureBehind(value);
    const message =
      failure === undefined
        ? missingMessage(value, needs)
        : `${value.path} cannot be worked out yet: ${failure.message}`;
    return { path: value.path, message, needs, anchor };
  }

  /** Why a value that should have come out did not. */
  private failureBehind({ path }: Value): Finding | undefined {
    const index = this.model.variableAt(path);
    const determination = index === undefined ? undefined : this.solution.determinations[index];
    if (determination?.how !== "failed") return undefined;
    return this.failures[determination.failure];
  }

  /** The written default of a figure, as if it were given. */
  private usualOf(index: number): GivenNumber | undefined {
    const variable = this.model.variables[index];
    const node = (variable?.part ?? variable?.field)?.default;
    if (variable === undefined || node === undefined) return undefined;
    const reading = readFigure(node, variable.measure, () => "");
    if (reading.is !== "figure") return undefined;
    const { value, low, high } = reading.figure;
    return { value, low, high, rounding: 0 };
  }

  private get failures(): readonly (Finding | undefined)[] {
    return this.lazily("failures", () => {
      const context = this.findingContext();
      return this.solution.failures.map(
        (failure, index) => this.againstDefault(failure) ?? failureFinding(failure, index, context),
      );
    });
  }

  /**
   * More is given than fits, and what is over would land in a figure nobody wrote, outside of what
   * it can be: seen with assumed figures as they usually are, the givens disagree, and say so better.
   */
  private againstDefault({ why, variables }: Failure): Finding | undefined {
    const [index = -1] = variables;
    const usual = this.usualOf(index);
    if (why !== "no-root" || variables.length !== 1 || usual === undefined) return undefined;
    const assumed = new Map([[index, usual]]);
    for (const [other, { how }] of this.solution.determinations.entries()) {
      const figure = how === "assumed" ? this.usualOf(other) : undefined;
      if (figure !== undefined) assumed.set(other, figure);
    }
    const solution = solveOverlay(this.solution, { givens: assumed });
    const conflict = solution.conflicts.find(({ givens }) =>
      givens.some((each) => each.variable === index),
    );
    return conflict && conflictFinding(conflict, { ...this.findingContext(), solution });
  }

  // ── findings ──

  private findingContext(): FindingContext {
    const { members } = this.input.group;
    const items = members.map(({ item }) => item);
    const rootUri = members[0]?.scope.file.uri;
    return { model: this.model, solution: this.solution, writer: this.writer, items, rootUri };
  }

  private collectFindings(): Finding[] {
    const findings = new Findings();
    for (const finding of this.model.findings) findings.add(finding);
    const context = this.findingContext();
    for (const conflict of this.solution.conflicts) {
      const finding = conflictFinding(conflict, context);
      if (finding !== undefined) findings.add(finding);
    }
    const currencies = currencyFinding(this.model.variables);
    if (currencies !== undefined) findings.add(currencies);
    const failures = this.failures.flatMap((finding) => finding ?? []);
    for (const finding of failures) findings.add(finding);
    for (const [index, check] of this.checks.entries()) {
      const finding = checkFinding(
        check,
        this.model.claims[index] as ModelClaim,
        this.input.levels,
        context,
      );
      if (finding === undefined) continue;
      findings.add({ ...finding, furtherFixes: () => fitFixes(this, check) });
    }
    for (const finding of unjudgedFindings(this.checks, context)) findings.add(finding);
    if (this.model.stacks.length > 0) {
      for (const finding of stackFindings(this, this.writer)) findings.add(finding);
    }
    for (const missing of this.missing) {
      // What failed says so at this very place.
      if (failures.some(({ anchor }) => anchor === missing.anchor)) continue;
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
