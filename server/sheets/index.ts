/**
 * The room of paper: the pack of sheets for the bench, as data, HTML and Markdown.
 */
export { cutList } from "./cut-list";
export { sheetsHtml } from "./html";
export { sheetsMarkdown } from "./markdown";
export { type Measuring, measuringOf, type ToMeasure } from "./measuring";
export {
  askedBy,
  type FileEdit,
  type FilledIn,
  filledIn,
  formOf,
  howExactly,
  remarkOf,
  withEdits,
} from "./measuring-form";
export { type Pack, type PackOptions, packOf, type Sheet } from "./pack";
