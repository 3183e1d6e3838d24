/**
 * The messages between the editor and the server that are our own, beside those of the protocol.
 *
 * - `trammel/summary`, server to editor: how a build stands, after it was read.
 * - `trammel/libraryFile`, editor to server: the text of a library file, for editors that cannot
 *   ask for it by `workspace/textDocumentContent`.
 * - `trammel/picture`, editor to server: a picture of a build, and which others there are.
 * - `trammel/sheets`, editor to server: the sheets for the bench as one HTML page.
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

export const pictureMethod = "trammel/picture";

const placeShape = z.object({ line: z.number(), character: z.number() });

/** How a build is looked at; `over`: as drawn, what was built over it. */
export const pictureViewShape = z.enum(["comes out", "drawn", "built", "over"]);

const pictureRequestShape = z.object({
  uri: z.string(),
  /** Where the cursor is: the picture follows it, unless one is chosen. */
  position: placeShape.optional(),
  /** `rear/behind` */
  picture: z.string().optional(),
  /** True where the picture was chosen by hand and stays whatever the cursor is at. */
  pinned: z.boolean().optional(),
  option: z.string().optional(),
  reading: pictureViewShape,
});

export type PictureRequest = z.infer<typeof pictureRequestShape>;

export function readPictureRequest(sent: unknown): PictureRequest | undefined {
  return pictureRequestShape.safeParse(sent).data;
}

/** What a drawing consists of: names of elements and attributes are ours alone. */
export interface PictureShape {
  tag: "svg" | "g" | "line" | "path" | "circle" | "text" | "title" | "desc";
  attributes: Record<string, string | number>;
  children: (PictureShape | string)[];
}

const attributeNames = z.enum([
  "xmlns",
  "class",
  "viewBox",
  "width",
  "height",
  "role",
  "aria-label",
  "data-scale",
  "data-part",
  "data-path",
  "transform",
  "d",
  "x",
  "y",
  "x1",
  "x2",
  "y1",
  "y2",
  "cx",
  "cy",
  "r",
  "font-size",
  "textLength",
  "lengthAdjust",
]);

const shapeOfPicture: z.ZodType<PictureShape> = z.lazy(() =>
  z.object({
    tag: z.enum(["svg", "g", "line", "path", "circle", "text", "title", "desc"]),
    attributes: z.partialRecord(attributeNames, z.union([z.string(), z.number()])) as z.ZodType<
      Record<string, string | number>
    >,
    children: z.array(z.union([z.string(), shapeOfPicture])),
  }),
);

const pictureReadingShape = z.object({
  path: z.string(),
  text: z.string(),
  told: z.string(),
  known: z.boolean(),
  tight: z.boolean(),
  /** Where it is written, or its thing is opened. */
  place: z.object({ uri: z.string(), line: z.number(), character: z.number() }).optional(),
});

export const pictureAnswerShape = z.object({
  uri: z.string(),
  /** False where the text is half typed: the picture may lack what the line before it had. */
  readable: z.boolean(),
  offers: z.array(z.object({ id: z.string(), title: z.string() })),
  options: z.array(z.object({ name: z.string(), title: z.string() })),
  recorded: z.boolean(),
  picture: z
    .object({
      id: z.string(),
      title: z.string(),
      description: z.string(),
      scale: z.string(),
      shape: shapeOfPicture,
      readings: z.array(pictureReadingShape),
    })
    .optional(),
});

export type PictureAnswer = z.infer<typeof pictureAnswerShape>;

export function readPictureAnswer(sent: unknown): PictureAnswer | undefined {
  return pictureAnswerShape.safeParse(sent).data;
}

export const sheetsMethod = "trammel/sheets";

const sheetsRequestShape = z.object({
  uri: z.string(),
  /** `2026-11-27`, by the clock of the person who asks. */
  date: z.string(),
  file: z.string(),
});

export function readSheetsRequest(sent: unknown): z.infer<typeof sheetsRequestShape> | undefined {
  return sheetsRequestShape.safeParse(sent).data;
}

export function readSheetsAnswer(sent: unknown): { html: string } | undefined {
  return z.object({ html: z.string() }).safeParse(sent).data;
}
