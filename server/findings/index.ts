/**
 * The room of findings: all that can be found, as data, and its words. Rooms below the analysis
 * raise facts; whoever gives findings out has them worded.
 */
export { at, Findings } from "./collected";
export type { Finding, Fix, Severity } from "./finding";
export * from "./phrases";
