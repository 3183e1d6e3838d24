/**
 * What a verb of the command line is: one declaration from which the arguments, the help, the row of
 * the README, the list of schemas and the editor's tasks are made.
 *
 *     verb<{ all?: boolean }>({ name: "show", operands: [build, …], options: [flag(…)], run })
 *
 * Must not know: any verb.
 */
import type { Palette } from "./palette";
import type { Session, View } from "./session";

/** What stands behind a verb without a dash; all are optional, verbs say themselves what they miss. */
export interface Operand {
  readonly name: string;
  readonly says: string;
  /** Takes all that follow. */
  readonly many?: boolean;
  /** The only words it may be; one of them has to be given. */
  readonly choices?: readonly string[];
}

export interface VerbOption {
  /** `--depth <levels>` */
  readonly flags: string;
  readonly says: string;
  readonly choices?: readonly string[];
  readonly default?: string | readonly string[];
  readonly wholeNumber?: boolean;
}

/** Which of the options that verbs share it takes: those of a reading, those of an input, the time there is, or none. */
export type SharedOptions = "reading" | "input" | "time" | "none";

export interface Verb {
  readonly name: string;
  /** Half a sentence for the list of verbs. */
  readonly summary: string;
  readonly description: string;
  readonly operands: readonly Operand[];
  readonly shared: SharedOptions;
  readonly options: readonly VerbOption[];
  /** Its `--format json` is a contract with a schema. */
  readonly schema?: boolean;
  /** What the editor's task of that name says; without it there is none. */
  readonly task?: string;
  run(run: VerbRun<Record<string, unknown>>): Promise<number>;
}

/** One run of a verb. */
export interface VerbRun<Options> {
  /** As written, in the order of the declaration. */
  readonly operands: readonly string[];
  readonly options: Options;
  readonly view: View;
  readonly session: Session;
  readonly palette: Palette;
  /** All operands as builds, standard input among them where it is asked for. */
  builds(): Promise<string[]>;
  /** The first operand as a build, and what follows it. */
  oneBuild(): Promise<{ build: string; rest: readonly string[] }>;
}

/** A verb with the options it declares, as its `run` sees them. */
export function verb<Options>(
  declared: Omit<Verb, "run"> & { run(run: VerbRun<Options>): Promise<number> },
): Verb {
  return declared as Verb;
}
