/** What the thread that reads builds and the one that watches over it say to each other. */
import type { Message } from "vscode-languageserver/node";

/** A build that ended a thread, and the text it did it with. */
export interface LeftAlone {
  readonly uri: string;
  /** Of the open document; `undefined` where only the disk has it. */
  readonly version: number | undefined;
  readonly why: "time" | "memory" | "fault";
}

/** What a thread is begun with. */
export interface ServiceData {
  readonly leftAlone: readonly LeftAlone[];
  /** True where a thread before it was given up: the editor has to ask again. */
  readonly isReplacement: boolean;
  /**
   * One number, shared: how often the editor has told something, an edit or that a question is taken
   * back. Who reads a build sees it grow and lets the editor have its say first.
   */
  readonly told: Int32Array;
}

export type ToService =
  | { readonly is: "message"; readonly message: Message }
  | { readonly is: "listening?" };

export type ToSupervisor =
  | { readonly is: "message"; readonly message: Message }
  | { readonly is: "listening" }
  | { readonly is: "reading"; readonly uri: string };
