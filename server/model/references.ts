/**
 * What written references lead to: things of the kind their field wants, each found once by whoever
 * follows names, and told of where it is none.
 *
 *     references.follow(rear, entry, "wheel")   →   the thing that `wheel: rear_wheel` names
 *
 * Must not know: what is implied where nothing is written, who asks.
 */
import type * as syntax from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import type { FileScope } from "../names/scope";
import type { Binder } from "./binder";
import type { Vocabulary } from "./definition";
import { firstFew } from "./spelling";
import type { Target } from "./target";
import type { Entry, Thing } from "./thing";

/** References that name each other: more of them in a row than anybody writes, and few for the machine. */
const mostFollowed = 100;

export class References {
  /** References that are being followed, each to find the one before it. */
  private readonly following: {
    readonly thing: Thing;
    readonly entry: Entry;
    readonly value: syntax.Expression;
  }[] = [];

  constructor(
    private readonly binder: Binder,
    private readonly report: (found: Found) => void,
  ) {}

  /** The thing a written reference means; nothing, and what is wrong told, where it means none such. */
  follow(thing: Thing, entry: Entry, wanted: string): Thing | undefined {
    const { value, anchor } = entry;
    if (value.type !== "path") {
      if (value.type === "missing") return undefined;
      this.tell(thing, {
        is: "name/not-a-thing",
        wanted,
        known: this.knownOfKind(anchor.uri, wanted),
        single: false,
        anchor,
      });
      return undefined;
    }
    const target = this.namedFor(thing, entry, value, wanted);
    if (target.is === "unset") return undefined;
    if (target.is !== "thing") {
      if (target.is === "unknown") {
        if (thing.top === this.binder.own)
          this.binder.unknownTarget(target, (span) => ({ ...anchor, span }), {
            kind: wanted,
            names: this.namesOfKind(anchor.uri, wanted),
          });
      } else
        this.tell(thing, {
          is: "name/not-a-thing",
          wanted,
          known: this.knownOfKind(anchor.uri, wanted),
          single: true,
          anchor,
        });
      return undefined;
    }
    const found = target.thing;
    for (let owner: Thing | undefined = thing; owner !== undefined; owner = owner.owner) {
      if (owner !== found) continue;
      this.tell(thing, {
        is: "reference/itself",
        path: thing.path,
        field: entry.field.text,
        wanted,
        part: owner !== thing,
        anchor,
      });
      return undefined;
    }
    if (!found.is(wanted)) {
      this.tell(thing, {
        is: "name/wrong-kind",
        wanted,
        known: this.knownOfKind(anchor.uri, wanted),
        path: found.path,
        kind: found.kind.name,
        declared: found.anchor,
        anchor,
      });
      return undefined;
    }
    return found;
  }

  /** Where the names of a reference lead; nowhere where they lead back to it, or go on and on. */
  private namedFor(thing: Thing, entry: Entry, value: syntax.Path, wanted: string): Target {
    const { following } = this;
    const circular = following.some((each) => each.thing === thing && each.value === value);
    if (circular || following.length >= mostFollowed) {
      const most = circular ? undefined : mostFollowed;
      const from = circular ? { thing, entry } : (following[0] ?? { thing, entry });
      const { field, anchor } = from.entry;
      const { path } = from.thing;
      this.tell(from.thing, {
        is: "reference/itself names",
        path,
        field: field.text,
        wanted,
        most,
        anchor,
      });
      return { is: "unset" };
    }
    following.push({ thing, entry, value });
    const target = this.binder.named(thing, entry, value.names);
    following.pop();
    return target;
  }

  /** What is wrong with a reference is told on behalf of the thing that has it. */
  private tell(thing: Thing, found: Found): void {
    if (thing.top === this.binder.own) this.report(found);
  }

  private namesOfKind(uri: string, kind: string): readonly string[] {
    const scope = this.binder.names.scopeOf(uri);
    return scope === undefined ? [] : namesOfKind(this.binder.vocabulary, scope, kind);
  }

  private knownOfKind(uri: string, kind: string): readonly string[] {
    return firstFew(this.namesOfKind(uri, kind));
  }
}

/** Things of a kind as a file calls them. */
export function namesOfKind(
  { kinds }: Pick<Vocabulary, "kinds">,
  scope: FileScope,
  kind: string,
  prefix = "",
): string[] {
  const names: string[] = [];
  for (const [name, { node }] of scope.declarations) {
    const found = kinds.get(node.kind.text);
    if (found?.lineage.includes(kind)) names.push(`${prefix}${name}`);
  }
  for (const [name, inside] of scope.namespaces) {
    names.push(...namesOfKind({ kinds }, inside, kind, `${prefix}${name}.`));
  }
  return names;
}
