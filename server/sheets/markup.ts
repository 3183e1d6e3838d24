/**
 * HTML as values: elements made by name, their texts escaped where they are put in, so that nothing
 * a build says becomes markup.
 *
 *     page("p", { class: "note" }, ["cut to ", page("b", {}, ["58 1/8 in"])]).html
 *
 * Must not know: what is written.
 */
import { type Shape, svgOf } from "../drafting";
import { forHtml } from "../text/untrusted-text";

export interface Markup {
  readonly html: string;
}

type Child = Markup | string | undefined;

const empty = new Set(["br", "hr", "meta", "col"]);

/** Attributes that are `undefined` are left out. */
export function page(
  tag: string,
  attributes: Readonly<Record<string, string | undefined>>,
  children: readonly Child[] = [],
): Markup {
  const written = Object.entries(attributes)
    .map(([name, value]) => (value === undefined ? "" : ` ${name}="${forHtml(value)}"`))
    .join("");
  if (empty.has(tag)) return { html: `<${tag}${written}>` };
  const inner = children.map((child) =>
    child === undefined ? "" : typeof child === "string" ? forHtml(child) : child.html,
  );
  return { html: `<${tag}${written}>${inner.join("")}</${tag}>` };
}

/** A drawing as an element of the page. */
export function drawn(shape: Shape): Markup {
  return { html: svgOf(shape) };
}

/** Our own style sheet, as it is. */
export function styles(text: string): Markup {
  return { html: `<style>${text}</style>` };
}
