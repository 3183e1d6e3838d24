/**
 * Names a file can use: its own things, those of the files it uses, and the words of all of them.
 *
 * Must not know: what the things hold.
 */

import type { SourceOfFile } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Item } from "../../grammar/syntax";
import type { ThingId } from "./ids";

/** A thing declared at the top of some file, not yet made. */
export interface Declaration {
  readonly id: ThingId;
  readonly node: syntax.Thing;
  readonly item: Item;
  readonly uri: string;
  /** True for what a file that ships with Trammel declares. */
  readonly library: boolean;
  /** How the root file reaches the names of that file: "" or `brakes.`. */
  readonly prefix: string;
}

export interface FileScope {
  readonly file: SourceOfFile;
  /** How the root file reaches this file's names: "" or `brakes.`. */
  readonly prefix: string;
  /** Things of this file and of those used without `as`. */
  readonly declarations: ReadonlyMap<string, Declaration>;
  /** Files used `as` a name. */
  readonly namespaces: ReadonlyMap<string, FileScope>;
}
