/**
 * The page in the panel: draws what it is told out of elements made one by one, so that no text of a
 * build is ever read as markup; zooms, pans, lights, jumps.
 *
 * Must not know: the editor, the server, what is drawn.
 */

import { drawingStyle } from "../../../server/drafting/style";
import type { PictureShape } from "../../../server/messages";
import { type PanelState, readToPage, type ToHost, type ToPage } from "../messages";
import { Stage } from "./stage";

declare function acquireVsCodeApi(): {
  postMessage(message: ToHost): void;
  setState(state: PanelState): void;
};

const host = acquireVsCodeApi();
const svgSpace = "http://www.w3.org/2000/svg";

type PictureMessage = Extract<ToPage, { type: "picture" }>;

/** Each with its words, and whether it needs records. */
const viewNames = [
  ["comes out", "as it comes out", false],
  ["drawn", "as drawn", false],
  ["built", "as built", true],
  ["over", "as drawn, as built over it", true],
] as const;

const app = document.getElementById("app") as HTMLElement;
const pictures = select("Picture");
const views = select("How the build is looked at");
const variants = select("Option of the build");
const banner = element("div", { class: "banner", role: "status" });
const view = element("div", {
  class: "view",
  tabindex: "0",
  role: "group",
  "aria-label": "Drawing: plus and minus zoom, arrows move, 0 fits",
});
const stage = new Stage(view);
const told = element("div", { class: "told", "aria-live": "polite" });
const figures = element("tbody", {});
let shown: PictureMessage | undefined;

begin();

function begin(): void {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(drawingStyle);
  document.adoptedStyleSheets = [sheet];
  const button = (text: string, label: string, act: () => void): HTMLElement => {
    const made = element("button", { "aria-label": label, title: label }, [text]);
    made.addEventListener("click", act);
    return made;
  };
  const table = element("table", {}, [
    element("thead", {}, [
      element(
        "tr",
        {},
        ["figure", "reads", "what it is"].map((name) => element("th", {}, [name])),
      ),
    ]),
    figures,
  ]);
  app.append(
    element("div", { class: "bar" }, [
      pictures,
      views,
      variants,
      button("+", "Zoom in", () => stage.zoom(1.25)),
      button("−", "Zoom out", () => stage.zoom(0.8)),
      button("fit", "Fit the drawing", () => stage.fit()),
    ]),
    banner,
    view,
    told,
    element("details", {}, [element("summary", {}, ["Figures"]), table]),
  );
  banner.hidden = true;
  pictures.addEventListener("change", () =>
    host.postMessage({
      type: "choose",
      ...(pictures.value === "" ? {} : { picture: pictures.value }),
    }),
  );
  for (const chosen of [views, variants])
    chosen.addEventListener("change", () => {
      const reading = viewNames.find(([name]) => name === views.value)?.[0] ?? "comes out";
      const option = variants.value === "" ? {} : { option: variants.value };
      host.postMessage({ type: "view", reading, ...option });
    });
  view.addEventListener("click", (event) => jumpFrom(event.target));
  view.addEventListener("pointerover", (event) => tell(groupOf(event.target)));
  view.addEventListener("focusin", (event) => tell(groupOf(event.target)));
  view.addEventListener("keydown", (event) => {
    if (event.key === "Enter" || event.key === " ") {
      jumpFrom(event.target);
      event.preventDefault();
    } else if (stage.key(event.key)) event.preventDefault();
  });
  window.addEventListener("message", ({ data }: MessageEvent<unknown>) => {
    const message = readToPage(data);
    if (message !== undefined) receive(message);
  });
  host.postMessage({ type: "ready" });
}

function receive(message: ToPage): void {
  switch (message.type) {
    case "picture":
      show(message);
      break;
    case "lit":
      light(new Set(message.paths));
      break;
    case "nothing":
      say(message.text);
      break;
  }
}

function show(message: PictureMessage): void {
  const { answer, view: chosen, file } = message;
  host.setState({ uri: file, ...chosen });
  fillPictures(message);
  fillViews(message);
  const { picture } = answer;
  // Half a line says less than the line before it: what was there stays, and is said to be old.
  if (!answer.readable && shown?.answer.picture !== undefined && shown.file === file) {
    say("The text is half typed: this is the picture of before.");
    view.classList.add("old");
    return;
  }
  view.classList.remove("old");
  if (picture === undefined) {
    say(
      "Nothing to draw yet: an axle, a driveline, brakes, a gearbox or a joint would have a picture.",
    );
    stage.clear();
    figures.replaceChildren();
    shown = message;
    return;
  }
  say(answer.readable ? "" : "The text is half typed: some figures may be missing.");
  const same = shown?.answer.picture?.id === picture.id && shown.file === file;
  const focused = groupOf(document.activeElement)?.getAttribute("data-path");
  const svg = elementOf(picture.shape) as SVGSVGElement;
  for (const group of svg.querySelectorAll("[data-path].dimension, [data-path].note")) {
    group.setAttribute("tabindex", "0");
    group.setAttribute("role", "button");
  }
  stage.show(svg, !same);
  if (focused) byPath(focused)[0]?.focus();
  fillFigures(message);
  shown = message;
}

function fillPictures({ answer: { offers, picture }, view: { pinned } }: PictureMessage): void {
  const follow = option(
    "",
    picture === undefined ? "follows the cursor" : `follows the cursor: ${picture.title}`,
  );
  pictures.replaceChildren(follow, ...offers.map(({ id, title }) => option(id, title)));
  pictures.value = pinned ? (picture?.id ?? "") : "";
}

function fillViews({ answer: { options, recorded }, view: chosen }: PictureMessage): void {
  views.replaceChildren(
    ...viewNames
      .filter(([, , records]) => recorded || !records)
      .map(([name, words]) => option(name, words)),
  );
  views.value = chosen.reading;
  variants.replaceChildren(
    option("", "as written"),
    ...options.map(({ name, title }) => option(name, `option ${title}`)),
  );
  variants.value = chosen.option ?? "";
  variants.hidden = options.length === 0;
}

function fillFigures({ answer: { picture } }: PictureMessage): void {
  const rows = (picture?.readings ?? []).map(({ path, text, told: words }) => {
    const jump = element("button", {}, [path]);
    jump.addEventListener("click", () => host.postMessage({ type: "jump", path }));
    return element("tr", {}, [
      element("td", {}, [jump]),
      element("td", {}, [text]),
      element("td", {}, [words]),
    ]);
  });
  figures.replaceChildren(...rows);
}

function light(paths: ReadonlySet<string>): void {
  for (const group of view.querySelectorAll("[data-path]"))
    group.classList.toggle("lit", paths.has(group.getAttribute("data-path") ?? ""));
  const [first] = [...paths].flatMap(byPath);
  if (first !== undefined) tell(first);
}

function byPath(path: string): SVGElement[] {
  return [...view.querySelectorAll<SVGElement>(".dimension[data-path], .note[data-path]")].filter(
    (group) => group.getAttribute("data-path") === path,
  );
}

function groupOf(target: EventTarget | null): Element | undefined {
  const found = target instanceof Element ? target.closest("[data-path]") : null;
  return found ?? undefined;
}

function jumpFrom(target: EventTarget | null): void {
  const path = groupOf(target)?.getAttribute("data-path");
  if (path && !stage.dragged) host.postMessage({ type: "jump", path });
}

function tell(group: Element | undefined): void {
  const words = group?.getAttribute("aria-label");
  if (words) told.textContent = words;
}

function say(text: string): void {
  banner.textContent = text;
  banner.hidden = text === "";
}

/** Elements and attributes are those of the message's own list; texts are texts. */
function elementOf(shape: PictureShape): SVGElement {
  const made = document.createElementNS(svgSpace, shape.tag);
  for (const [name, value] of Object.entries(shape.attributes))
    if (name !== "xmlns") made.setAttribute(name, String(value));
  for (const child of shape.children)
    made.append(typeof child === "string" ? child : elementOf(child));
  return made;
}

function element(
  tag: string,
  attributes: Readonly<Record<string, string>>,
  children: readonly (Node | string)[] = [],
): HTMLElement {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children);
  return made;
}

function select(label: string): HTMLSelectElement {
  const made = document.createElement("select");
  made.setAttribute("aria-label", label);
  return made;
}

function option(value: string, text: string): HTMLOptionElement {
  const made = document.createElement("option");
  made.value = value;
  made.textContent = text;
  return made;
}
