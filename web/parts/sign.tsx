/** Signs of our own, drawn with the ink of the words beside them; none stands for a word that is not there. */

const LINES = {
  places: "M3 6h14M3 10h14M3 14h8",
  back: "M12.5 4l-6 6 6 6",
  down: "M5 8l5 5 5-5",
  device: "M6.5 3h7v14h-7zM9.5 14.5h1",
  check: "M4 10.5l4 4 8-9",
  clock: "M10 3a7 7 0 110 14 7 7 0 010-14zM10 6v4l3 2",
  agrees: "M4 7.5h12M4 12.5h12",
  differs: "M4 7.5h12M4 12.5h12M13 3.5l-6 13",
  stop: "M7 3h6l4 4v6l-4 4H7l-4-4V7zM10 6.5v4M10 13.4v.1",
  undo: "M4.5 3.5v4.5H9M5 8a6.2 6.2 0 11-.9 4.6",
  camera: "M3 6.5h3.5L8 4.5h4l1.5 2H17v9.5H3zM10 8.5a2.7 2.7 0 110 5.4 2.7 2.7 0 010-5.4z",
  lamp: "M7 3h6l2.5 6h-11zM10 9v6M6.5 16.5h7",
  pen: "M4 16l.8-3.6L13.5 3.7l2.8 2.8-8.7 8.7zM11.5 5.7l2.8 2.8",
  more: "M10 4v12M4 10h12",
  turn: "M4 8a6.3 6.3 0 0111-2.4L17 8M17 3.5V8h-4.4M16 12a6.3 6.3 0 01-11 2.4L3 12M3 16.5V12h4.4",
};

export type SignName = keyof typeof LINES;

export function Sign({ of }: { of: SignName }) {
  return (
    <svg class="sign" viewBox="0 0 20 20" aria-hidden="true">
      <path d={LINES[of]} />
    </svg>
  );
}

/** What was said of a zone: a check, a filled mark, a broken box, or a dot where nobody spoke. */
export function ZoneSign({ state }: { state: string | undefined }) {
  return (
    <svg class="sign" viewBox="0 0 20 20" aria-hidden="true">
      <ZoneLines state={state} />
    </svg>
  );
}

/** The same as a part of a larger drawing, 20 units wide and high. */
export function ZoneLines({ state }: { state: string | undefined }) {
  if (state === "clear") return <path d="M3 3h14v14H3zM6.5 10l2.5 3 5-6" />;
  if (state === "finding")
    return (
      <>
        <path class="solid" d="M3 3h14v14H3z" />
        <path class="over" d="M10 6v5M10 14v.1" />
      </>
    );
  if (state === "not-examined")
    return (
      <>
        <path class="broken" d="M3 3h14v14H3z" />
        <path d="M7 10h6" />
      </>
    );
  return <path d="M10 10v.1" />;
}
