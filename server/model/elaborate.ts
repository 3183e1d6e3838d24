/**
 * Turns things into one system of equations: a variable for every figure that is named, an
 * equation for every relation, formula and default that applies, a claim for every check.
 *
 *     const model = elaborate({ declarations, scope, … })   →   variables, equations, claims, asks
 *
 * Must not know: how systems are solved, how files are read, the trade.
 */
import type { Item } from "../../grammar/syntax";
import { type Anchor, textAt } from "./anchor";
import { World, type Write } from "./build-things";
import { Claims } from "./claims";
import type { FieldDefinition, Vocabulary } from "./definition";
import { Equations } from "./equations";
import { Figures } from "./figures";
import { Findings } from "./finding";
import { FormulaNames } from "./formula-names";
import type { FormPool } from "./kind-environment";
import { readFigure } from "./literal";
import type { Ask, Model } from "./model";
import type { Declaration, FileScope } from "./scope";
import { withArticle } from "./spelling";
import type { Entry, Thing } from "./thing";
import { orList, Words } from "./words";

/** What is written at the top of a file beside its things. */
export interface TopLevel {
  readonly item: Item;
  readonly scope: FileScope;
}

export interface ElaborationInput {
  readonly declarations: readonly Declaration[];
  /** Top-level checks, relations and curves. */
  readonly statements: readonly TopLevel[];
  /** Top-level givens, then those of the option or records that are laid over, in order. */
  readonly writes: readonly Write[];
  /** What records say, held against the build without changing it: only its words are looked at. */
  readonly heldAgainst?: readonly Write[];
  /** Name tables and names as the root file sees them. */
  readonly vocabulary: Vocabulary;
  /** Shared formulas; lives as long as the vocabulary. */
  readonly pool: FormPool;
}

export function elaborate(input: ElaborationInput): Model {
  return new Elaboration(input).run();
}

class Elaboration {
  private readonly findings = new Findings();
  private readonly world: World;
  private readonly words = new Words(this.findings);
  private readonly figures: Figures;
  private readonly names: FormulaNames;
  private readonly equations: Equations;
  private readonly claims: Claims;
  private readonly asks: Ask[] = [];
  private byPath: ReadonlyMap<string, number> | undefined;
  private readonly done = new Set<Thing>();

  constructor(private readonly input: ElaborationInput) {
    const { findings, words } = this;
    const { vocabulary, pool } = input;
    const world = new World(input.declarations, (finding) => findings.add(finding));
    world.write(input.writes);
    this.world = world;
    this.figures = new Figures(world, words, pool, findings, (index, variable, entry) =>
      this.equations.workOut(index, variable, entry),
    );
    this.names = new FormulaNames(world, words, this.figures, findings);
    this.equations = new Equations(this.figures, this.names, vocabulary, pool, findings);
    this.claims = new Claims(this.figures, this.names, vocabulary, pool, findings);
  }

  run(): Model {
    this.touchWritten();
    for (const { thing, key, entry } of this.world.asks) this.ask(thing, key, entry);
    for (const statement of this.input.statements) this.statement(statement);
    // Relations may imply further things whose parts have been written through references.
    for (let before = -1; before !== this.done.size; ) {
      before = this.done.size;
      for (const thing of [...this.world.everything()]) this.expand(thing);
    }
    const things = [...this.world.everything()];
    // Last, since following their names may imply things that nothing else speaks of.
    for (const write of this.input.heldAgainst ?? []) this.holdAgainst(undefined, write);
    return {
      things,
      variables: this.figures.list,
      equations: this.equations.list,
      claims: this.claims.list,
      curves: this.claims.curves,
      asks: this.asks,
      stacks: this.equations.stacks,
      words: this.words.known,
      findings: this.findings.list,
      variableAt: (path) => this.variablesByPath().get(path),
      resolve: (thing, scope, names) => this.world.resolve(thing, scope, names),
    };
  }

  private variablesByPath(): ReadonlyMap<string, number> {
    this.byPath ??= new Map(this.figures.list.map(({ name }, index) => [name, index]));
    return this.byPath;
  }

  private touchWritten(): void {
    for (const thing of [...this.world.everything()]) {
      for (const key of thing.entries.keys()) this.touch(thing, key);
    }
  }

  private touch(thing: Thing, key: string): void {
    const [fieldName = "", partName] = key.split(".");
    const field = thing.field(fieldName);
    if (field === undefined) return;
    const { type } = field;
    switch (type.form) {
      case "measure":
        this.figures.variable({ thing, field });
        break;
      case "designation":
        if (partName !== undefined) {
          const part = type.designation.parts.get(partName);
          if (part !== undefined) this.figures.variable({ thing, field, part });
        } else {
          this.words.word(thing, field);
          for (const [name, value] of this.words.partsOf(thing, field) ?? []) {
            const part = type.designation.parts.get(name);
            if (part !== undefined && typeof value === "number")
              this.figures.variable({ thing, field, part });
          }
        }
        break;
      case "reference":
      case "part":
        this.world.linked(thing, field);
        break;
      case "list":
        this.world.listed(thing, field);
        this.figures.listItems(thing, field);
        break;
      default:
        this.words.word(thing, field);
    }
  }

  /** Relations, defaults of headline figures, and checks of one thing. */
  private expand(thing: Thing): void {
    if (this.done.has(thing)) return;
    // A thing nobody wrote into only lends its names; its own relations would say nothing.
    if (thing.implied && !thing.written && !this.asked(thing)) return;
    this.done.add(thing);
    const { kind } = thing;
    for (const field of kind.fields.values()) {
      if (field.type.form === "part") this.world.linked(thing, field);
    }
    for (const relation of kind.relations) this.equations.kindRelation(thing, relation);
    for (const check of kind.checks) this.claims.kindCheck(thing, check);
    for (const curve of kind.curves)
      this.claims.addCurve({ thing, scope: thing.scope }, curve, undefined);
    for (const { node, anchor } of thing.relations)
      this.equations.ownRelation({ thing, scope: thing.scope }, node, anchor);
    for (const { node, anchor } of thing.checks)
      this.claims.ownCheck({ thing, scope: thing.scope }, node, anchor);
    for (const { node, anchor } of thing.curves)
      this.claims.ownCurve({ thing, scope: thing.scope }, node, anchor);
    for (const field of kind.fields.values()) {
      if (field.shown && field.type.form === "measure") this.figures.variable({ thing, field });
    }
  }

  private asked(thing: Thing): boolean {
    return this.asks.some((ask) => ask.thing === thing);
  }

  private statement({ item, scope }: TopLevel): void {
    const { node } = item;
    const anchor: Anchor = { uri: scope.file.uri, item, span: node.span };
    if (node.type === "check") this.claims.ownCheck({ scope }, node, anchor);
    else if (node.type === "relation") this.equations.ownRelation({ scope }, node, anchor);
    else if (node.type === "curve") this.claims.ownCurve({ scope }, node, anchor);
  }

  /** Says which names and values of a record make no sense. */
  private holdAgainst(inside: Thing | undefined, write: Write): void {
    const { node, scope, item } = write;
    const anchor: Anchor = { uri: scope.file.uri, item, span: node.span };
    const target = this.world.resolve(inside, scope, node.path.names);
    if (target.is === "unknown") {
      const { problem } = this.names.unknownName(target);
      this.findings.raise([problem], anchor);
      return;
    }
    if (node.type === "part") {
      if (target.is !== "thing") return;
      for (const member of node.members) {
        if (member.type === "given" || member.type === "part")
          this.holdAgainst(target.thing, { ...write, node: member });
      }
      return;
    }
    if (target.is !== "field") return;
    const { type } = target.part ?? target.field;
    if (type.form !== "measure") return;
    const reading = readFigure(node.value, type.measure, (span) => textAt({ ...anchor, span }));
    if (reading.is === "problem") this.findings.raise([reading.problem], anchor);
  }

  private ask(thing: Thing, key: string, entry: Entry): void {
    const [fieldName = "", partName] = key.split(".");
    const field = thing.field(fieldName);
    if (field === undefined) return;
    if (field.type.form === "designation" && partName !== undefined) {
      const part = field.type.designation.parts.get(partName);
      if (part !== undefined)
        this.asks.push({
          thing,
          field,
          entry,
          variable: this.figures.variable({ thing, field, part }),
        });
      return;
    }
    if (field.type.form === "measure") {
      this.asks.push({ thing, field, entry, variable: this.figures.variable({ thing, field }) });
      return;
    }
    // An option may free a reference, so that any thing of the kind can stand there.
    if (entry.layer !== "spec") return;
    this.findings.add({
      code: "missing/not-a-figure",
      severity: "warning",
      message: `\`${fieldName}\` cannot be worked out: only figures can`,
      hint: `${whatToWrite(field)}, or leave the line out`,
      anchor: entry.anchor,
    });
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function whatToWrite({ type }: FieldDefinition): string {
  switch (type.form) {
    case "choice":
      return `write ${orList(type.choices)}`;
    case "reference":
    case "part":
      return `name ${withArticle(type.kind)}`;
    default:
      return "write it";
  }
}
