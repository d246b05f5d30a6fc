/** A small sign before a line that is good, not good, or not known. It never stands for the words beside it. */

const PATHS = {
  good: "M3 9l4 4 8-9",
  "not-good": "M4 4l10 10M14 4L4 14",
  unknown: "M9 5a4 4 0 110 8 4 4 0 010-8z",
};

export function Mark({ state }: { state: keyof typeof PATHS }) {
  return (
    <svg class="mark" viewBox="0 0 18 18" aria-hidden="true">
      <path d={PATHS[state]} fill="none" stroke="currentColor" stroke-width="2.5" stroke-linecap="round" />
    </svg>
  );
}
