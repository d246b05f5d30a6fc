/** What is made of what memory holds: once, until that changes, however many screens ask for it and however often. */
import { computed, type ReadonlySignal } from "@preact/signals-core";

/**
 * A reader of something made for a key. It is made when it is asked for and kept; anew only after a signal that `make`
 * has read holds another value. A list of the same members keeps its identity, so that nobody is told of it.
 */
export function derived<Key extends string, Value>(make: (key: Key) => Value): (key: Key) => Value {
  const known = new Map<Key, ReadonlySignal<Value>>();
  return (key) => {
    const found = known.get(key) ?? keepingIdentity(() => make(key));
    known.set(key, found);
    return found.value;
  };
}

function keepingIdentity<Value>(make: () => Value): ReadonlySignal<Value> {
  let last: { value: Value } | null = null;
  return computed(() => {
    const value = make();
    if (!last || !hasSameMembers(last.value, value)) last = { value };
    return last.value;
  });
}

function hasSameMembers(a: unknown, b: unknown) {
  if (!Array.isArray(a) || !Array.isArray(b)) return Object.is(a, b);
  return a.length === b.length && a.every((member, index) => member === b[index]);
}
