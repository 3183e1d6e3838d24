import * as assert from "node:assert/strict";
import { existsSync } from "node:fs";
import * as vscode from "vscode";
import { open } from "./helper";

suite("tasks", () => {
  test("offer the command line's verbs on the open build", async () => {
    await open("empty.trammel");
    const tasks = await vscode.tasks.fetchTasks({ type: "trammel" });
    assert.deepEqual(tasks.map((task) => task.definition.verb).sort(), [
      "check",
      "compare",
      "measure",
      "plan",
      "show",
    ]);
    for (const task of tasks) {
      assert.deepEqual(task.problemMatchers, ["$trammel"]);
      assert.ok(task.execution instanceof vscode.ProcessExecution);
      const [program, verb] = task.execution.args;
      assert.ok(program !== undefined && existsSync(program), "the program is there");
      assert.equal(verb, task.definition.verb);
    }
  });
});
