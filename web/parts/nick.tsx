/** How bad a finding is, as a nick cut into an edge; its figure or word always stands beside it. */

/** By severity, in a block 24 wide and 12 high; four is cut through. */
const BLOCKS = [
  "M0 0H24V12H0z",
  "M0 0H8l4 4 4-4h8V12H0z",
  "M0 0H7l5 7 5-7h7V12H0z",
  "M0 0H6l6 10 6-10h6V12H0z",
  "M0 0H6l4 12H0zM24 0H18l-4 12H24z",
];

/** `severity` runs 0 to 4 as the class's plan defines it. */
export function Nick({ severity }: { severity: number }) {
  return (
    <svg class="nick" viewBox="0 0 24 12" aria-hidden="true">
      <path d={BLOCKS[severity] ?? BLOCKS[0]} />
      {severity === 0 && <path class="over" d="M9 6h6" />}
    </svg>
  );
}
