/** The command line's entry. */
import { Command } from "commander";

const program = new Command("trammel");
program.parse();
