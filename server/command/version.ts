/** The version of what runs, as the package states it. */
export { version } from "../../package.json";
