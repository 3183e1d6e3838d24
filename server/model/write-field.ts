/**
 * What lines say of one field is kept in its thing: what is given, and what is asked for.
 *
 *     fields.setField(wheel, name, node, write)   →   wheel.entries.get("offset")
 *
 * Must not know: how the thing is found, formulas, measures' values, the solver.
 */
import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Item } from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import type { Distribution, Role } from "../solve/system";
import { Binder, type Things } from "./binder";
import type { FieldDefinition, Vocabulary } from "./definition";
import { addParts } from "./implied";
import { notAPart, type UnknownTarget, unknownField } from "./target";
import type { Entry, Layer, Thing } from "./thing";
import { isWrittenForEach } from "./twins";

/** One line as it is to be written into a field, and where names in it are looked for. */
export interface Write {
  readonly node: syntax.Given | syntax.Part;
  readonly item: Item;
  readonly uri: string;
  readonly library: boolean;
  readonly layer: Layer;
  readonly date?: string;
  /** It stands in a block about several parts. */
  readonly forEach?: boolean;
  /** It is tried in the place of whatever is written. */
  readonly tried?: boolean;
}

export class FieldWriter {
  constructor(
    private readonly vocabulary: Vocabulary,
    private readonly report: (found: Found) => void,
  ) {}

  /** A line about a part of what is written in a field, `size.rim`. */
  setPartOfDesignation(
    thing: Thing,
    field: FieldDefinition,
    name: syntax.Name,
    node: syntax.Given,
    write: Write,
  ): void {
    const { type } = field;
    if (type.form !== "designation") return;
    if (!type.designation.parts.has(name.text)) {
      this.unknownTarget(notAPart(field, name), write);
      return;
    }
    this.store(thing, `${field.name}.${name.text}`, name, node, write);
  }

  /** A line about a field of the thing. */
  setField(thing: Thing, name: syntax.Name, node: syntax.Given, write: Write): void {
    const { uri, item } = write;
    const anchor: Anchor = { uri, item, span: name.span };
    if (thing.field(name.text) === undefined) {
      this.unknownTarget(unknownField(thing, name), write);
      return;
    }
    const opened = thing.parts.get(name.text) ?? thing.standIns.get(name.text);
    if (opened?.spoken === true && write.layer === "spec") {
      this.report({ is: "given/twice opened", path: `${thing.path}.${name.text}`, anchor });
      return;
    }
    this.store(thing, name.text, name, node, write);
  }

  private store(
    thing: Thing,
    key: string,
    name: syntax.Name,
    node: syntax.Given,
    write: Write,
  ): void {
    const { uri, item, layer, date, library } = write;
    if (node.value.type === "missing") return;
    const anchor = { uri, item, span: node.value.span };
    const entry: Entry = {
      field: name,
      value: node.value,
      anchor,
      role: node.role?.text as Role | undefined,
      tolerance: node.tolerance,
      step: node.step,
      near: node.near,
      distribution: node.distribution?.text as Distribution | undefined,
      together: node.together?.value,
      library,
      layer,
      shared: write.forEach === true || isWrittenForEach(node),
      inherited: false,
      date,
    };
    if (node.value.type === "ask") {
      const said = thing.asked.get(key) ?? thing.entries.get(key);
      thing.asked.set(key, said === undefined ? entry : askedAgain(entry, said));
      if (layer !== "spec") {
        thing.entries.delete(key);
        addParts(thing, this.vocabulary);
      }
      return;
    }
    const before = thing.entries.get(key);
    // What a chapter of the library says is there to be changed; what is tried is tried in its place.
    const replaces = (before?.library === true && !library) || write.tried === true;
    if (before !== undefined && before.layer === layer && layer !== "record" && !replaces) {
      this.report({
        is: "given/twice",
        path: `${thing.path}.${key}`,
        before: before.anchor,
        anchor: { uri, item, span: node.span },
      });
      return;
    }
    thing.entries.set(key, entry);
    // What was only implied there gives way to what is named.
    if (thing.parts.get(key)?.spoken === false) thing.parts.delete(key);
  }

  /** Tells of a name that leads nowhere from a thing. */
  unknownTarget(target: UnknownTarget, { uri, item }: Write): void {
    const names = { vocabulary: this.vocabulary } as Things;
    new Binder(names, undefined, this.report).unknownTarget(target, (span) => ({
      uri,
      item,
      span,
    }));
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** Asking for a figure once more takes nothing from what was said it is, unless that is said otherwise. */
function askedAgain(entry: Entry, before: Entry): Entry {
  const near = entry.near ?? before.near;
  if (entry.role !== undefined) return { ...entry, near };
  const step = entry.step ?? before.step;
  const tolerance = entry.tolerance ?? before.tolerance;
  return { ...entry, near, role: before.role, step, tolerance };
}
