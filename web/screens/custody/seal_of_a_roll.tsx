/** A number that was keyed as a seal's, and is one of a roll of tags: somebody may have read the tag. */
export function SealOfARoll({ seal, given_to }: { seal: string; given_to: string }) {
  return (
    <p class="bar wrong" role="alert">
      {seal} is a number for tags, of the roll {given_to ? `of ${given_to}` : "that nobody has"}, and none of
      a seal. Read the seal again; if it does bear that number, record it all the same.
    </p>
  );
}
