/**
 * What a text that is being typed stands inside of, and whether a unit comes next: read off the
 * braces before the cursor, since what is half typed has no tree.
 *
 * Must not know: what is offered there.
 */
import { type FileWords, follow, followFromFile, type Holder, holderOf, ofKind } from "./holder";
import type { Opener } from "./writing-place";

export function holderOfOpeners(names: FileWords, openers: readonly Opener[]): Holder | undefined {
  let holder: Holder | undefined;
  for (const opener of openers) {
    switch (opener.is) {
      case "thing": {
        const child = holder?.thing?.children.get(opener.name);
        const kind = names.vocabulary.kinds.get(opener.kind);
        if (child !== undefined) holder = { kind: child.kind, thing: child, owner: holder };
        else if (holder === undefined) {
          const target = followFromFile(names, [opener.name]);
          const known = target?.is === "thing" && target.holder.kind.name === opener.kind;
          holder = known ? target.holder : kind === undefined ? undefined : { kind };
        } else if (kind !== undefined) holder = { kind, owner: holder };
        break;
      }
      case "part": {
        const target = follow(names, holder, opener.path);
        holder = target === undefined ? holder : (holderOf(target) ?? holder);
        break;
      }
      case "kind": {
        const kind = names.vocabulary.kinds.get(opener.name);
        holder = kind === undefined ? undefined : ofKind(names, kind);
        break;
      }
      default:
        break;
    }
  }
  return holder;
}

/** `5`, `23 1/2 `, `5 ft 1 5/16`, `± 1/32 `: a unit comes next. */
export function afterNumber(text: string): boolean {
  return /(?:^|[\s:([,+*/^<>=±-])\.?\d[\d.]*(?:[\s-]\d+\/\d+|\/\d+)?\s*$/.test(text);
}
