/**
 * The room of paper: the pack of sheets for the bench, as data, HTML and Markdown.
 */
export { cutList } from "./cut-list";
export { sheetsHtml } from "./html";
export { sheetsMarkdown } from "./markdown";
export { type Pack, type PackOptions, packOf, type Sheet } from "./pack";
