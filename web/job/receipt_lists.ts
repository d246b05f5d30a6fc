/**
 * What the words of a receipt's line go by: names stand behind one another, patterns as text.
 *
 * Written by `python -m intake.app_types` from `intake/custody/receipt_lines.py`. Change that, then write it anew.
 */
/** What a zone is, and no thing on it. */
export const STATES =
  "converted filled laid-down over-cleaned patched re-covered re-plated re-sewn re-stuffed rebound " +
  "refinished relined repainted resized restuck retouched runs-untimed seized slack stiff stops trimmed";
/** What is not there any more. */
export const MISSING: Readonly<Record<string, string>> = {
  "missing-part": "part",
  "stone-missing": "stone",
  "leaf-missing": "leaf",
};
/** What did not work, by the trial. */
export const FAILED: Readonly<Record<string, string>> = {
  chronograph: "the chronograph did not answer when tried once",
  clasp: "the catch did not work when tried once",
  "claw-touch": "a rattle was heard when the setting was touched",
  "cover-fit": "the cover does not fit",
  "doors-locks": "the doors and locks did not open when tried",
  drawers: "the drawers did not run when tried",
  extend: "the leaves did not open when tried",
  focus: "the focus did not move when tried",
  "free-wheel": "one wheel was tried and did not turn",
  "gentle-move": "did not move when tried",
  "half-turn": "the motor did not run on half a turn",
  hinge: "the hinge did not open when tried once",
  iris: "the iris did not turn when tried",
  "is-it-going": "not going when examined",
  lift: "the pendulum and the weights did not lift off",
  "pegs-turn": "the pegs did not turn when tried",
  pendulum: "the pendulum did not swing when tried",
  "post-standing": "the sound-post is down",
  "press-voice": "the voice did not answer when pressed once",
  rock: "does not stand firm",
  "set-hands": "the hands did not move when set",
  "shutter-fire": "the shutter did not fire when tried",
  "sleep-eyes": "the eyes did not open and close when tried",
  stopper: "the stopper did not lift",
  "strike-once": "the strike did not answer when tried once",
  "tighten-bow": "the bow did not tighten",
  "tilt-voice": "the voice did not answer when tipped once",
  "turn-joints": "the joints did not turn when tried",
  voice: "the voice did not answer when tipped once",
  "wind-few": "did not run after a few turns",
  "wind-music": "the music did not play on a quarter turn",
  "wind-part": "did not run after one or two turns",
};
/** Zones that are beside the pieces of a set, and on none of them. */
export const BESIDE =
  "accessories box box-flaps documents extras note-paper packaging papers set-count slipcase";
/** Nouns for a piece, whatever the set is of. */
export const PIECE_NOUNS = "example examples one ones piece pieces";
/** Words of a note that say which piece, before a noun for one. */
export const BEFORE_NOUN =
  "\\b(?:all|both|each|every|either|neither|one|two|three|four|five|six|\\d+|first|second|third|fourth|" +
  "fifth|sixth|last|(?:larg|small|tall|short)(?:er|est)|other|another|odd|left|right)(?:-hand)? (?=(\\w+))";
/** Words of a note that say which piece by themselves. */
export const SAYS_WHICH =
  "\\b(?:piece|number|no|nr)s?\\.? \\d|\\bthe (?:first|second|third|fourth|fifth|sixth)\\b|\\b(?:all|both|" +
  "each|every|either|neither|one|two|three|four|five|six|\\d+|first|second|third|fourth|fifth|sixth|last|" +
  "(?:larg|small|tall|short)(?:er|est)|other|another|odd|left|right) of (?:them\\b|these\\b|the (?:one|two|" +
  "three|four|five|six|\\d+|set|pair|pieces)\\b)|\\b(?:the (?:first|second|third|fourth|fifth|sixth|last|" +
  "(?:larg|small|tall|short)(?:er|est)|other|another|odd)|both|each|neither|all(?: (?:one|two|three|four|" +
  "five|six|\\d+))?)(?= *(?:$|[,.;:]| (?:and|is|are|has|have|only|from)\\b))";
