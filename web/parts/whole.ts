/**
 * A number of a tag is never broken over two lines, nor an option that is to be typed: one rule for all words of all
 * screens, wherever they come from.
 */

import { type ComponentChildren, Fragment, h, options, type VNode } from "preact";

/** A number as `shown` writes it, or an option of a command; split by it, every second part is one. */
const NUMBER = /(\b[0-9A-Z]{3}-[0-9A-Z]{3}\b|--[a-z]+(?:-[a-z]+)*)/;

/** These hold words alone, and no element; SVG's own among them. */
const WORDS_ALONE = new Set(["option", "textarea", "title", "text", "tspan", "style", "script"]);

type Props = { class?: unknown; children?: ComponentChildren };

/** From now on whatever is drawn obeys the rule; to be called once, before anything is drawn. */
export function keepTagsWhole() {
  const before = options.vnode;
  options.vnode = (vnode) => {
    before?.(vnode);
    if (typeof vnode.type === "string" ? !WORDS_ALONE.has(vnode.type) : vnode.type === Fragment)
      keepWhole(vnode.props as Props);
  };
}

/** Words among children that hold a number become an element in their place; the other places stay what they are. */
export function keepWhole(props: Props) {
  const { children } = props;
  if (props.class === "whole" || !children) return;
  if (typeof children === "string") {
    if (NUMBER.test(children)) props.children = inWhole(children);
  } else if (
    Array.isArray(children) &&
    children.some((part) => typeof part === "string" && NUMBER.test(part))
  )
    props.children = joined(children).map((part) =>
      typeof part === "string" && NUMBER.test(part) ? inWhole(part) : part,
    );
}

/** Words that follow each other are one, in the first one's place: apart, a row of keys would set them apart. */
function joined(children: ComponentChildren[]): ComponentChildren[] {
  const isWord = (part: ComponentChildren) => typeof part === "string" || typeof part === "number";
  let words = "";
  return children
    .toReversed()
    .map((part, index, reversed) => {
      if (!isWord(part)) return part;
      words = `${part}${words}`;
      if (isWord(reversed[index + 1])) return null;
      const all = words;
      words = "";
      return all;
    })
    .toReversed();
}

function inWhole(words: string): VNode {
  const parts = words.split(NUMBER);
  return h(
    "span",
    null,
    ...parts.map((part, index) => (index % 2 ? h("span", { class: "whole" }, part) : part)),
  );
}
