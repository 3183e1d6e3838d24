/**
 * The picture beside the text: one panel that follows the cursor and each edit, jumps to the line of
 * a figure that is clicked, and comes back after a reload. Knows the server only by its messages, and
 * of pictures only that the page shows them.
 */
import { randomBytes } from "node:crypto";
import * as vscode from "vscode";
import type { LanguageClient } from "vscode-languageclient/node";
import { type PictureAnswer, pictureMethod, readPictureAnswer } from "../../server/messages";
import { type PanelState, type PanelView, readState, readToHost, type ToPage } from "./messages";
import { pageOf } from "./page-html";

const viewType = "trammel.picture";
/** A frame: a row of keystrokes asks once. */
const pause = 16;
/** A server that only just began may know nothing of a build yet: asked again so often, each time later. */
const mostTries = 9;

export function registerPanel(
  context: vscode.ExtensionContext,
  client: LanguageClient,
): vscode.Disposable {
  let panel: Panel | undefined;
  const script = () =>
    vscode.workspace.fs.readFile(vscode.Uri.joinPath(context.extensionUri, "dist", "panel.js"));
  const show = async (webview: vscode.WebviewPanel, state: PanelState): Promise<void> => {
    panel?.dispose();
    const made = new Panel(webview, client, state);
    panel = made;
    webview.onDidDispose(() => {
      made.dispose();
      if (panel === made) panel = undefined;
    });
    const nonce = randomBytes(18).toString("base64");
    webview.webview.html = pageOf(new TextDecoder().decode(await script()), nonce);
  };
  return vscode.Disposable.from(
    vscode.commands.registerCommand("trammel.showPicture", async () => {
      const editor = vscode.window.activeTextEditor;
      if (editor?.document.languageId !== "trammel") {
        await vscode.window.showInformationMessage("Open a build to see its picture.");
        return;
      }
      const uri = editor.document.uri.toString();
      if (panel !== undefined) {
        panel.follow(uri);
        panel.reveal();
        return;
      }
      const webview = vscode.window.createWebviewPanel(
        viewType,
        "Picture",
        { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true },
        webviewOptions,
      );
      await show(webview, { uri, pinned: false, reading: "comes out" });
    }),
    vscode.window.registerWebviewPanelSerializer(viewType, {
      async deserializeWebviewPanel(webview, kept: unknown) {
        const state = readState(kept);
        webview.webview.options = webviewOptions;
        await show(webview, state ?? { uri: "", pinned: false, reading: "comes out" });
      },
    }),
    { dispose: () => panel?.dispose() },
  );
}

// ───────────────────────────── helpers ─────────────────────────────

const webviewOptions: vscode.WebviewPanelOptions & vscode.WebviewOptions = {
  enableScripts: true,
  enableForms: false,
  enableCommandUris: false,
  retainContextWhenHidden: true,
  localResourceRoots: [],
};

class Panel implements vscode.Disposable {
  private readonly listeners: vscode.Disposable[];
  private timer: NodeJS.Timeout | undefined;
  private asked = 0;
  /** Turns in a row that were not answered. */
  private unanswered = 0;
  private uri: string;
  private view: PanelView;
  private answer: PictureAnswer | undefined;

  constructor(
    private readonly panel: vscode.WebviewPanel,
    private readonly client: LanguageClient,
    { uri, ...view }: PanelState,
  ) {
    this.uri = uri;
    this.view = view;
    this.listeners = [
      panel.webview.onDidReceiveMessage((sent: unknown) => this.receive(sent)),
      vscode.workspace.onDidChangeTextDocument(({ document }) => {
        // A part the build uses may have changed as well as the build.
        if (document.languageId === "trammel") this.later();
      }),
      vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => {
        if (textEditor.document.languageId !== "trammel") return;
        this.follow(textEditor.document.uri.toString());
        this.light();
      }),
      vscode.window.onDidChangeActiveTextEditor((editor) => {
        if (editor?.document.languageId === "trammel") this.follow(editor.document.uri.toString());
      }),
      client.onDidChangeState(() => this.later()),
    ];
  }

  dispose(): void {
    clearTimeout(this.timer);
    for (const listener of this.listeners.splice(0)) listener.dispose();
  }

  reveal(): void {
    this.panel.reveal(undefined, true);
  }

  /** Another build, or the cursor elsewhere in this one. */
  follow(uri: string): void {
    if (uri !== this.uri) {
      this.uri = uri;
      this.view = { ...this.view, pinned: false };
    }
    this.later();
  }

  private later(wait = pause): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.ask(), wait);
  }

  private async ask(): Promise<void> {
    if (this.uri === "" || !this.client.isRunning()) return;
    const turn = ++this.asked;
    const position = this.editor()?.selection.active;
    const { picture, pinned, option, reading } = this.view;
    const params = {
      uri: this.uri,
      pinned,
      reading,
      ...(picture === undefined ? {} : { picture }),
      ...(option === undefined ? {} : { option }),
      ...(position === undefined
        ? {}
        : { position: { line: position.line, character: position.character } }),
    };
    const sent: unknown = await this.client
      .sendRequest(pictureMethod, params)
      .then(undefined, () => undefined);
    // What was asked later is answered later; an answer that came too late would show the past.
    if (turn !== this.asked) return;
    const answer = readPictureAnswer(sent);
    if (answer === undefined) {
      this.send({ type: "nothing", text: "This build cannot be read just now." });
      this.unanswered++;
      if (this.unanswered < mostTries) this.later(pause * 2 ** this.unanswered);
      return;
    }
    this.unanswered = 0;
    if (answer.readable || this.answer?.picture === undefined) this.answer = answer;
    if (!pinned && answer.readable)
      this.view = {
        reading,
        pinned,
        ...(answer.picture === undefined ? {} : { picture: answer.picture.id }),
        ...(option === undefined ? {} : { option }),
      };
    const title = answer.picture?.title ?? "Picture";
    this.panel.title = title.length > 40 ? `${title.slice(0, 39)}…` : title;
    this.send({ type: "picture", answer, view: this.view, file: this.uri });
    this.light();
  }

  /** Lights what is written where the cursor is. */
  private light(): void {
    const line = this.editor()?.selection.active.line;
    const readings = this.answer?.picture?.readings ?? [];
    const paths = readings
      .filter(({ place }) => place !== undefined && sameUri(place.uri, this.uri))
      .filter(({ place }) => place?.line === line)
      .map(({ path }) => path);
    this.send({ type: "lit", paths });
  }

  private editor(): vscode.TextEditor | undefined {
    return vscode.window.visibleTextEditors.find(({ document }) =>
      sameUri(document.uri.toString(), this.uri),
    );
  }

  private receive(sent: unknown): void {
    const message = readToHost(sent);
    switch (message?.type) {
      case "ready":
        this.later();
        break;
      case "choose":
        this.view = {
          ...this.view,
          picture: message.picture,
          pinned: message.picture !== undefined,
        };
        this.later();
        break;
      case "view":
        this.view = { ...this.view, option: message.option, reading: message.reading };
        this.later();
        break;
      case "jump":
        void this.jump(message.path);
        break;
    }
  }

  private async jump(path: string): Promise<void> {
    const place = this.answer?.picture?.readings.find((each) => each.path === path)?.place;
    if (place === undefined) return;
    const uri = vscode.Uri.parse(place.uri);
    const visible = vscode.window.visibleTextEditors.find(({ document }) =>
      sameUri(document.uri.toString(), place.uri),
    );
    const at = new vscode.Position(place.line, place.character);
    await vscode.window.showTextDocument(
      visible?.document ?? (await vscode.workspace.openTextDocument(uri)),
      {
        viewColumn: visible?.viewColumn ?? vscode.ViewColumn.One,
        selection: new vscode.Range(at, at),
      },
    );
  }

  private send(message: ToPage): void {
    void this.panel.webview.postMessage(message);
  }
}

/** Editors and servers escape addresses each in their own way. */
function sameUri(one: string, other: string): boolean {
  return one === other || vscode.Uri.parse(one).toString() === vscode.Uri.parse(other).toString();
}
