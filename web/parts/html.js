/** Markup in template strings. */
import { h } from "preact";
import htm from "htm";

/** @type {(strings: TemplateStringsArray, ...values: any[]) => any} */
export const html = htm.bind(h);
