/**
 * The messages between the editor and the server that are our own, beside those of the protocol.
 *
 * - `trammel/summary`, server to editor: how a build stands, after it was read.
 * - `trammel/libraryFile`, editor to server: the text of a library file, for editors that cannot
 *   ask for it by `workspace/textDocumentContent`.
 */
import * as z from "zod";

export const summaryMethod = "trammel/summary";

const summaryShape = z.object({
  uri: z.string(),
  /** Figures that came out, given ones aside. */
  solved: z.number(),
  /** Figures asked for that are missing. */
  missing: z.number(),
  errors: z.number(),
  warnings: z.number(),
});

export type Summary = z.infer<typeof summaryShape>;

/** `undefined` for what is no such message. */
export function readSummary(sent: unknown): Summary | undefined {
  return summaryShape.safeParse(sent).data;
}

export const libraryFileMethod = "trammel/libraryFile";

const libraryFileShape = z.object({ uri: z.string() });

export function readLibraryFileRequest(
  sent: unknown,
): z.infer<typeof libraryFileShape> | undefined {
  return libraryFileShape.safeParse(sent).data;
}
