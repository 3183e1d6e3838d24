/**
 * Tasks of type `trammel`: the command line that ships with the extension, run on a build of the
 * workspace, so that its findings land in the list of problems.
 *
 *     { "type": "trammel", "verb": "check", "path": "van/build.trammel", "problemMatcher": "$trammel" }
 */
import * as vscode from "vscode";

export function registerTasks(context: vscode.ExtensionContext): vscode.Disposable {
  const program = context.asAbsolutePath("dist/trammel.js");
  const verbs = verbsIn(context.extension.packageJSON);
  return vscode.tasks.registerTaskProvider("trammel", {
    provideTasks: () =>
      verbs.map((verb) => taskOf({ type: "trammel", verb }, vscode.TaskScope.Workspace, program)),
    resolveTask: (task) =>
      verbs.includes(task.definition.verb)
        ? taskOf(task.definition, task.scope ?? vscode.TaskScope.Workspace, program)
        : undefined,
  });
}

function taskOf(
  definition: vscode.TaskDefinition,
  scope: vscode.WorkspaceFolder | vscode.TaskScope,
  program: string,
): vscode.Task {
  const path = typeof definition.path === "string" ? definition.path : "${file}";
  const task = new vscode.Task(
    definition,
    scope,
    `${definition.verb} ${typeof definition.path === "string" ? path : "the open build"}`,
    "trammel",
    // The editor's own program is a Node when told so; a person need not have one installed.
    new vscode.ProcessExecution(process.execPath, [program, definition.verb, path], {
      env: { ELECTRON_RUN_AS_NODE: "1" },
    }),
    "$trammel",
  );
  task.group = vscode.TaskGroup.Test;
  return task;
}

/** Those the manifest says a task may have. */
function verbsIn(manifest: {
  contributes: { taskDefinitions: { properties: { verb: { enum: string[] } } }[] };
}): readonly string[] {
  return manifest.contributes.taskDefinitions[0]?.properties.verb.enum ?? [];
}
