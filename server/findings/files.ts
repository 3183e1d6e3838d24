/**
 * What is wrong with the files of a build: `use` lines, and faults of Trammel's own.
 *
 * Must not know: how files are found and read.
 */
import { type Misnamed, written } from "./phrases";
import type { Family } from "./said";

export const fileFindings = {
  "use/not-a-path": ({
    path,
    why,
  }: {
    readonly path: string;
    readonly why: "empty" | "top-of-disk" | "no-path";
  }) => ({
    message:
      why === "empty"
        ? "the path of a file is missing"
        : why === "top-of-disk"
          ? `"${path}" begins at the top of a disk`
          : `"${path}" is not a path to a file`,
    hint: 'write a path beside this file, such as "parts/wheels.trammel"',
  }),
  "use/none": ({ path }: { readonly path: string }) => ({
    message: `there is no file like "${path}"`,
    hint: "check the path and the pattern",
  }),
  "use/outside": ({ path }: { readonly path: string }) => ({
    message: `"${path}" lies outside of the workspace`,
    hint: "keep the files of a build in one folder and use paths inside it",
  }),
  "use/not-a-build": ({ path, ending }: { readonly path: string; readonly ending: string }) => ({
    message: `"${path}" does not end with ${ending}`,
    hint: `only files that end with ${ending} are read`,
  }),
  "use/circular": ({ files }: { readonly files: readonly string[] }) => ({
    message: `this goes round in a circle: ${files.join(" uses ")}`,
    hint: "move what both need into a third file",
  }),
  "use/too-many text": ({ most }: { readonly most: number }) => ({
    message: `the files of this build hold more than ${most / 1024 / 1024} million characters together, this one is left out`,
    hint: "split the build, or the lists it uses",
  }),
  "use/too-many": ({ most }: { readonly most: number }) => ({
    message: `a build can use ${most} files at most, this one is left out`,
    hint: "put several lists into one file",
  }),
  "use/unreadable": ({ path, why }: { readonly path: string; readonly why?: string }) => ({
    message: `"${path}" cannot be read${why === undefined ? "" : `: ${why}`}`,
    hint: "check the path; it is read from the folder of this file",
  }),
  "use/missing": ({ path }: { readonly path: string }) => ({
    message: `there is no file "${path}"`,
    hint: "check the path; it is read from the folder of this file",
  }),
  "use/missing library": ({ path, near }: Misnamed & { readonly path: string }, _, anchor) => ({
    message: `Trammel's library has no file "${path}"`,
    hint: near === undefined ? undefined : `did you mean "${near}"?`,
    fixes: near === undefined ? [] : [written(`"${near}"`, `"${near}"`, anchor, true)],
  }),
  "build/fault": ({ why }: { readonly why: string }) => ({
    severity: "warning",
    message: `part of this build was not looked through: ${why}`,
    hint: "this should not have happened: please report it with the build",
  }),
} satisfies Family;
