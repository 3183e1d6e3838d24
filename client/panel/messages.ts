/** The messages between the panel and the page in it; each side reads the other's by these shapes. */
import * as z from "zod";
import { pictureAnswerShape, pictureViewShape } from "../../server/messages";

const toHostShape = z.discriminatedUnion("type", [
  z.object({ type: z.literal("ready") }),
  /** To the line of a figure. */
  z.object({ type: z.literal("jump"), path: z.string() }),
  /** Nothing chosen follows the cursor again. */
  z.object({ type: z.literal("choose"), picture: z.string().optional() }),
  z.object({
    type: z.literal("view"),
    option: z.string().optional(),
    reading: pictureViewShape,
  }),
]);

export type ToHost = z.infer<typeof toHostShape>;

export function readToHost(sent: unknown): ToHost | undefined {
  return toHostShape.safeParse(sent).data;
}

const viewShape = z.object({
  picture: z.string().optional(),
  /** Chosen by hand: it stays whatever the cursor is at. */
  pinned: z.boolean(),
  option: z.string().optional(),
  reading: pictureViewShape,
});

export type PanelView = z.infer<typeof viewShape>;

const toPageShape = z.discriminatedUnion("type", [
  z.object({
    type: z.literal("picture"),
    answer: pictureAnswerShape,
    view: viewShape,
    file: z.string(),
  }),
  /** Figures whose line the cursor is on. */
  z.object({ type: z.literal("lit"), paths: z.array(z.string()) }),
  z.object({ type: z.literal("nothing"), text: z.string() }),
]);

export type ToPage = z.infer<typeof toPageShape>;

export function readToPage(sent: unknown): ToPage | undefined {
  return toPageShape.safeParse(sent).data;
}

const stateShape = viewShape.extend({ uri: z.string() });

/** What the page keeps of itself, to be opened again with after a reload. */
export type PanelState = z.infer<typeof stateShape>;

export function readState(kept: unknown): PanelState | undefined {
  return stateShape.safeParse(kept).data;
}
