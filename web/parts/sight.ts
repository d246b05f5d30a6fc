/** What is done only once it is looked at. */

/** So far below the screen counts as in sight: whoever scrolls finds it done. */
const AHEAD = "300px";

const works = new WeakMap<Element, () => void>();
const observer =
  "IntersectionObserver" in globalThis ? new IntersectionObserver(look, { rootMargin: AHEAD }) : null;

function look(entries: IntersectionObserverEntry[]) {
  for (const { isIntersecting, target } of entries) {
    if (!isIntersecting) continue;
    observer?.unobserve(target);
    works.get(target)?.();
  }
}

/** Do something once an element comes in sight; what is returned gives that up. */
export function whenInSight(element: Element, work: () => void): () => void {
  if (!observer) work();
  works.set(element, work);
  observer?.observe(element);
  return () => observer?.unobserve(element);
}
