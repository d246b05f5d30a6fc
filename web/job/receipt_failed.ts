/**
 * What did not work, in the line of a receipt, by the trial.
 *
 * Written by `python -m intake.app_types` from `intake/custody/failed_trials.py`. Change that, then write it anew.
 */
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
