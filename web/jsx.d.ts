/**
 * What an element of a screen must have: Preact's own types, and besides them a key does something, what a form sends
 * is taken, and what is entered where the app shows a value is heard. `tsc` reads this in place of the types of
 * `preact/jsx-runtime` (see `tsconfig.json`); the bundler passes over a path that ends in `.d.ts`.
 */
import type { JSX as Preact } from "preact";

export { Fragment, jsx, jsxs } from "./node_modules/preact/jsx-runtime/src/index.d.ts";

type Elements = Preact.IntrinsicElements;
/** The properties, of which one that may be left out is left out no more. */
type With<Props, Name extends keyof Props> = Props & { [K in Name]-?: NonNullable<Props[K]> };

/** A key that sends its form, or says what pressing it does. */
type Key = (Elements["button"] & { type: "submit" }) | With<Elements["button"], "onClick">;
/** One that takes what is entered, or only closes the dialog that it stands in. */
type Form = With<Elements["form"], "onSubmit"> | (Elements["form"] & { method: "dialog" });
/** A control whose value stands in the app hears what is entered, or is there to be read; any other keeps its own. */
type Control<Props extends { onInput?: unknown; onChange?: unknown }> =
  | With<Props, "onInput">
  | With<Props, "onChange">
  | (Props & { readOnly: true })
  | (Props & { value?: undefined; checked?: undefined });

export namespace JSX {
  export type Element = Preact.Element;
  export type ElementClass = Preact.ElementClass;
  export type ElementType = Preact.ElementType;
  export type ElementAttributesProperty = Preact.ElementAttributesProperty;
  export type ElementChildrenAttribute = Preact.ElementChildrenAttribute;
  export type IntrinsicAttributes = Preact.IntrinsicAttributes;
  export type LibraryManagedAttributes<Component, Props> = Preact.LibraryManagedAttributes<Component, Props>;
  export interface IntrinsicElements
    extends Omit<Elements, "button" | "form" | "input" | "select" | "textarea"> {
    button: Key;
    form: Form;
    input: Control<Elements["input"]>;
    select: Control<Elements["select"]>;
    textarea: Control<Elements["textarea"]>;
  }
}
