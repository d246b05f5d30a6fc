/** What of a thing is with its owner, and a thing that was recorded twice; the clock alone orders what was done. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { cameAgainBy, cameAgainSince, tagsBack } from "../../web/job/came_again.ts";
import { isNotCome } from "../../web/job/not_come.ts";
import { onMoreWords } from "../../web/job/on_more.ts";
import { oneThing, recordWith } from "../../web/job/one_thing.ts";
import { isOnPieceAway } from "../../web/job/piece_away.ts";
import { run } from "../../web/job/tag.ts";
import {
  fieldOfPiece,
  isBackWithOwner,
  isLater,
  latestOf,
  lostOf,
  movesHere,
  movesInOrder,
  numbersOf,
  pieceCount,
  piecesAway,
  piecesOfItem,
  returnsOf,
  tagsHere,
} from "../../web/job/with_owner.ts";

const [ONE, TWO, THREE, FOUR] = run("00002Y", 4);
const clock = (minute) => `2026-03-14T10:${String(minute).padStart(2, "0")}:00Z`;
const set = (value, minute) => ({
  ...{ value, made_at: clock(minute) },
  ...{ operation_id: "", made_by: "", device_id: "" },
});
const tag = (number, minute, more = {}) => ({
  [`tags/${number}`]: set({ tag: number, piece: 1, of: 1, gone: null, ...more }, minute),
});
/** What the ledger has, and with `last` where it is by that. */
const move = (id, to_place, minute, { tag = null, from_place = "table", last = true } = {}) => {
  const moved = set({ move_id: id, from_place, to_place, at: "", tag }, minute);
  return {
    [`moves/${id}`]: moved,
    ...(last ? { [tag ? `whereabouts/${tag}` : "whereabouts"]: moved } : {}),
  };
};
const inside = (container_id, minute, number) => ({
  [number ? `inside/${number}` : "inside"]: set({ container_id }, minute),
});
let made = 0;
const item = (...fields) => {
  made += 1;
  return {
    ...{ kind: "item", record_id: `i${made}`, disagreements: [], doubles: [] },
    fields: Object.assign({}, ...fields),
  };
};
const behind = (into, minute, ...fields) => item({ merged: set({ into_id: into }, minute) }, ...fields);
const both = (one, ...doubles) => ({ ...one, doubles });
const away = (...fields) => piecesAway(item(...fields));
const pair = (piece, more = {}) => ({ piece, of: 2, ...more });

test("a part of a second is later than the second, however it is written", () => {
  const [whole, half] = [{ made_at: "2026-03-14T10:00:00Z" }, { made_at: "2026-03-14T10:00:00.5Z" }];
  assert.deepEqual([isLater(half, whole), isLater(whole, half), isLater(whole, whole)], [true, false, false]);
  const first = set("first", 1);
  assert.equal(
    latestOf([set("before", 0), first, set("at once", 1)]),
    first,
    "the first of two at one moment",
  );
  assert.equal(latestOf([]), undefined);
  const moves = { ...move("b", "van", 1), ...move("a", "shelf", 1), ...move("c", "store", 0) };
  moves["moves/d"] = { ...moves["moves/a"], made_at: "2026-03-14T10:01:00.5Z" };
  assert.deepEqual(
    movesInOrder(item(moves)).map(({ id }) => id),
    ["c", "a", "b", "d"],
  );
});

test("a thing has as many pieces as any of its numbers says, also one that is gone", () => {
  assert.equal(pieceCount(item()), 1);
  assert.equal(pieceCount(item(tag(ONE, 0, { of: null }))), 1);
  assert.equal(pieceCount(item(tag(ONE, 0, pair(1, { gone: "lost" })), tag(TWO, 0))), 2);
});

test("all went back at once, and a number on it says so too", () => {
  assert.deepEqual(away(tag(ONE, 0), move("m", "returned", 5)), [1]);
  assert.deepEqual(away(tag(ONE, 0), move("m", "store", 5)), []);
  assert.deepEqual(away(tag(ONE, 0, { gone: "taken-back" })), [1]);
  assert.deepEqual(away(tag(ONE, 0, pair(1)), tag(TWO, 0, pair(2)), move("m", "returned", 5)), [1, 2]);
  assert.deepEqual(away(move("m", "returned", 5)), [1], "without any number");
});

test("a piece that went is away by itself, and the whole is not back until all of it is", () => {
  const [cup, saucer] = [tag(ONE, 0, pair(1)), tag(TWO, 0, pair(2))];
  const went = move("m", "returned", 5, { tag: TWO });
  assert.deepEqual(away(cup, saucer, went), [2]);
  assert.equal(isBackWithOwner(item(cup, saucer, went)), false);
  assert.deepEqual(tagsHere(item(cup, saucer, went)), [ONE]);
  const all = item(cup, saucer, went, move("n", "returned", 6, { tag: ONE }));
  assert.deepEqual([piecesAway(all), isBackWithOwner(all), tagsHere(all)], [[1, 2], true, []]);
  assert.deepEqual(
    away(cup, saucer, move("m", "returned", 5, { tag: TWO, last: false })),
    [],
    "TWO is on it",
  );
});

test("a piece whose number is lost is here until something says that it went, and while something later is known", () => {
  const lost = tag(ONE, 0, { gone: "lost" });
  assert.deepEqual(away(lost), []);
  assert.deepEqual(away(lost, move("m", "returned", 5)), [1]);
  assert.deepEqual(away(lost, move("m", "returned", 5, { last: false }), move("n", "store", 6)), []);
  assert.deepEqual(away(tag(ONE, 6, { gone: "lost" }), move("m", "returned", 5)), [], "it was at hand then");
  const void_then = tag(TWO, 4, { gone: "taken-back" });
  assert.deepEqual(away(tag(ONE, 3, { gone: "fallen-off" }), void_then), [1]);
  assert.deepEqual(away(tag(ONE, 5, { gone: "fallen-off" }), void_then), []);
  assert.deepEqual(away(tag(ONE, 6, { gone: "on-another-item" }), void_then), [1], "that was never on it");
});

test("a number is lost that is off and not with the owner", () => {
  const numbers = [
    ...[tag(ONE, 0), tag(TWO, 0, { gone: "lost" })],
    ...[tag(THREE, 0, { gone: "fallen-off" }), tag(FOUR, 0, { gone: "taken-back" })],
  ];
  assert.deepEqual(
    lostOf(numbersOf(item(...numbers), 1)).map(({ id }) => id),
    [TWO, THREE],
  );
});

test("a move of the whole brings those of its pieces alone that are here, unless all came again", () => {
  const cup = tag(ONE, 0, pair(1));
  const saucer = tag(TWO, 5, pair(2, { gone: "taken-back" }));
  assert.deepEqual(away(cup, saucer, move("m", "store", 8)), [2]);
  assert.deepEqual(away(cup, saucer, move("m", "table", 8, { from_place: "returned" })), []);
  assert.deepEqual(
    away(tag(ONE, 5, { gone: "taken-back" }), move("m", "store", 8)),
    [],
    "of one piece it is all",
  );
  assert.deepEqual(away(cup, saucer, move("m", "store", 8, { tag: TWO })), [], "or of that piece itself");
  assert.deepEqual(away(cup, saucer, move("m", "store", 8, { tag: ONE })), [2]);
  const ofThat = item(
    cup,
    saucer,
    move("m", "store", 8, { tag: TWO }),
    move("n", "returned", 4, { tag: ONE }),
  );
  const second = numbersOf(ofThat, 2);
  assert.deepEqual(
    [movesHere(ofThat, second).length, returnsOf(ofThat, second).map(({ made_at }) => made_at)],
    [2, [clock(5)]],
    "under its own numbers alone",
  );
});

test("what is tied after a thing went back is here, whatever the last move of the whole says", () => {
  const again = tag(TWO, 8);
  const went = move("m", "returned", 5);
  assert.deepEqual(away(tag(ONE, 0), went, again), []);
  assert.deepEqual(tagsHere(item(tag(ONE, 0), went, again)), [TWO]);
  assert.deepEqual(tagsHere(item(tag(ONE, 0), went, tag(TWO, 5))), [], "not what was tied at that moment");
  assert.deepEqual(tagsHere(item(went, tag(TWO, 8, { gone: "lost" }))), []);
  const packed = item(inside("crate", 3), move("m", "returned", 5), again);
  assert.equal(fieldOfPiece(packed, "inside", TWO), undefined, "nor is it in what it was in before");
  assert.equal(fieldOfPiece(packed, "inside").value.container_id, "crate");
});

test("what was tied again later is still in what the whole was put into since, or if it never went back", () => {
  const whole = (...fields) => fieldOfPiece(item(...fields), "inside", TWO)?.value.container_id;
  assert.equal(whole(inside("crate", 3), tag(TWO, 8)), "crate");
  assert.equal(whole(inside("crate", 3), move("m", "returned", 5)), "crate", "a number that it never had");
  const gone = tag(TWO, 8, { gone: "lost" });
  assert.equal(whole(inside("crate", 3), move("m", "returned", 5), gone), "crate", "or that is off");
  assert.equal(whole(inside("crate", 9), move("m", "returned", 5), tag(TWO, 8)), "crate");
  assert.equal(whole(inside("crate", 3), move("m", "returned", 9), tag(TWO, 8)), "crate");
  assert.equal(whole(inside("crate", 3), inside("box", 1, TWO), tag(TWO, 8)), "box", "its own comes first");
  const twice = [move("m", "returned", 5, { last: false }), move("n", "returned", 9)];
  assert.equal(whole(inside("crate", 3), ...twice, tag(TWO, 8)), undefined, "it went before and after");
  const other = [tag(ONE, 5, pair(1, { gone: "taken-back" })), tag(TWO, 8, pair(2))];
  assert.equal(whole(inside("crate", 3), ...other), "crate", "another piece of it went");
});

test("an old log says of a number neither its piece nor of how many", () => {
  const old = (number, minute, more) => tag(number, minute, { piece: null, of: null, ...more });
  const back = item(old(ONE, 5, { gone: "taken-back" }));
  assert.deepEqual([piecesOfItem(back).all.size, piecesAway(back)], [1, [1]]);
  assert.deepEqual(piecesOfItem(item(old(ONE, 5))).all.size, 1);
  const again = item(inside("crate", 3), old(ONE, 5, { gone: "taken-back" }), old(TWO, 8));
  assert.equal(fieldOfPiece(again, "inside", TWO), undefined);
});

test("a piece beyond those that are counted is one of them while its number is here", () => {
  assert.deepEqual([...piecesOfItem(item(tag(ONE, 0, { piece: 3 }))).all], [1, 3]);
  assert.deepEqual([...piecesOfItem(item(tag(ONE, 0, { piece: 3, gone: "lost" }))).all], [1]);
});

test("the numbers of both records are on one thing, void if either says so and else on it", () => {
  const one = item(tag(ONE, 0), tag(THREE, 0, { gone: "lost" }), tag(FOUR, 0));
  const other = behind(
    one.record_id,
    1,
    ...[tag(TWO, 0), tag(THREE, 2), tag(FOUR, 3, { gone: "taken-back" }), { maker: set("Plumb", 0) }],
  );
  const thing = oneThing(both(one, other));
  const gone = Object.fromEntries(
    [ONE, TWO, THREE, FOUR].map((number) => [number, thing.fields[`tags/${number}`].value.gone]),
  );
  assert.deepEqual(gone, { [ONE]: null, [TWO]: null, [THREE]: null, [FOUR]: "taken-back" });
  assert.equal(thing.fields.maker, undefined, "nothing else of the other is");
  const turned = oneThing(both(other, one));
  assert.equal(turned.fields[`tags/${THREE}`].value.gone, null, "whichever of them is asked");
  assert.equal(turned.fields[`tags/${FOUR}`].value.gone, "taken-back");
  const same = oneThing(both(item(tag(ONE, 0)), behind("x", 1, tag(ONE, 7))));
  assert.equal(same.fields[`tags/${ONE}`].made_at, clock(0), "its own of two that say the same");
  const alone = item(tag(ONE, 0));
  assert.equal(oneThing(alone), alone);
});

test("operations name the record that has the number", () => {
  const one = item(tag(ONE, 0));
  const other = behind(one.record_id, 1, tag(TWO, 0));
  const thing = both(one, other);
  assert.equal(recordWith(thing, ONE), thing);
  assert.equal(recordWith(thing, TWO), other);
  assert.equal(recordWith(thing, THREE), thing, "the first for one that neither has");
  const { doubles: _, ...never } = one;
  assert.equal(recordWith(never, TWO), never);
});

/** Where the piece under a number is by both records. */
const placeOf = (one, other, number) => fieldOfPiece(both(one, other), "whereabouts", number)?.value.to_place;
const containerOf = (one, other, number) =>
  fieldOfPiece(both(one, other), "inside", number)?.value.container_id;

test("where a thing of two records is the later of them says, for either number", () => {
  const [one, other] = [
    item(tag(ONE, 0), move("m", "van", 3)),
    behind("one", 1, tag(TWO, 0), move("n", "store", 6)),
  ];
  for (const number of [ONE, TWO, undefined]) {
    assert.equal(placeOf(one, other, number), "store");
    assert.equal(placeOf(other, one, number), "store");
  }
  const [packed, moved] = [
    item(tag(ONE, 0), inside("box", 2)),
    behind("one", 1, tag(TWO, 0), inside("crate", 4)),
  ];
  for (const number of [ONE, TWO, undefined]) assert.equal(containerOf(packed, moved, number), "crate");
  const byNumber = behind("one", 1, tag(TWO, 0), move("n", "store", 6, { tag: TWO }));
  assert.equal(placeOf(one, byNumber, ONE), "store", "moved under the number of the other");
  const untied = behind("one", 1, move("n", "store", 6));
  assert.equal(placeOf(one, untied, ONE), "store", "of which no number is left");
  const tied = (number, piece) => tag(number, 0, { piece, of: null });
  const moved_by_it = move("n", "store", 6, { tag: TWO });
  for (const [mine, its] of [
    [null, 1],
    [1, null],
    [null, null],
    [2, 2],
  ]) {
    const by_its = behind("one", 1, tied(TWO, its), moved_by_it);
    assert.equal(placeOf(item(tied(ONE, mine), move("m", "van", 3)), by_its, ONE), "store", `${mine} ${its}`);
  }
  const twoPieces = behind("one", 1, tag(TWO, 0, pair(2)), move("n", "store", 6, { tag: TWO }));
  assert.equal(placeOf(one, twoPieces, ONE), "van", "the other piece was");
  assert.equal(placeOf(one, twoPieces, TWO), "store");
});

test("a return of the one, before it was known that they are one, says nothing of what the other has here", () => {
  const [one, other] = [
    item(tag(ONE, 0), move("m", "store", 3)),
    behind("one", 9, tag(TWO, 0), move("n", "returned", 6)),
  ];
  assert.equal(placeOf(one, other, ONE), "store");
  assert.equal(placeOf(one, other, undefined), "store");
  assert.equal(isBackWithOwner(both(one, other)), false);
  const since = behind("one", 5, tag(TWO, 0), move("n", "returned", 6));
  assert.equal(placeOf(one, since, ONE), "returned", "whoever said it since had both in mind");
  assert.equal(isBackWithOwner(both(one, since)), true);
  const gone = item(tag(ONE, 0), move("m", "returned", 3));
  assert.equal(isBackWithOwner(both(gone, other)), true, "both went");
  assert.equal(placeOf(gone, other, undefined), "returned");
  const parted = { ...since, fields: { ...since.fields, merged: set({ into_id: null }, 5) } };
  assert.equal(placeOf(one, parted, ONE), "store", "nobody says any more that they are one");
  const void_one = item(tag(ONE, 7, { gone: "taken-back" }), move("m", "store", 3));
  assert.equal(placeOf(void_one, other, undefined), "returned", "nothing of the first is here");
});

test("what was tied after a return came again, also by the other record", () => {
  const [one, other] = [
    item(tag(ONE, 8), move("m", "store", 3)),
    behind("one", 4, tag(TWO, 0), move("n", "returned", 6)),
  ];
  assert.equal(placeOf(one, other, ONE), "store");
  assert.deepEqual(tagsHere(both(one, other)), [ONE]);
  const [back, fresh] = [
    item(tag(ONE, 0), move("m", "returned", 6)),
    behind("one", 1, tag(TWO, 8), move("n", "store", 9, { tag: TWO })),
  ];
  assert.equal(placeOf(back, fresh, ONE), "returned", "the number that was left on it does not go with it");
  assert.deepEqual(tagsHere(both(back, fresh)), [TWO]);
  const before = behind("one", 1, tag(TWO, 2), move("n", "store", 9, { tag: TWO }));
  assert.deepEqual(tagsHere(both(back, before)), [ONE, TWO], "one that was on it all the time does");
});

test("a piece went under the numbers that went with it; one that was lost before is not among them", () => {
  const lostIn = (minute) => tag(TWO, minute, { gone: "lost" });
  const void_ = (number, minute) => tag(number, minute, { gone: "taken-back" });
  const went = (fields) => tagsBack({ fields, disagreements: [] });
  assert.deepEqual(went({ ...void_(ONE, 9), ...lostIn(3) }), [ONE]);
  assert.deepEqual(went({ ...void_(ONE, 1), ...lostIn(3), ...void_(THREE, 9) }), [ONE, THREE]);
  assert.deepEqual(went({ ...void_(ONE, 1), ...lostIn(3), ...move("m", "returned", 9) }), [TWO]);
  assert.deepEqual(went({ ...tag(ONE, 1), ...lostIn(3), ...move("m", "returned", 9) }), [ONE]);
});

test("a fault is on a piece that went back while others are here", () => {
  const two = { ...tag(ONE, 1, { of: 2 }), ...tag(TWO, 1, { piece: 2, of: 2 }) };
  const gone = { fields: { ...two, ...move("m", "returned", 9, { tag: TWO }) }, disagreements: [] };
  const on = (piece) => isOnPieceAway(gone, { piece });
  assert.deepEqual(["1", "2", null, undefined].map(on), [false, true, false, false]);
  const whole = { fields: { ...two, ...move("m", "returned", 9) }, disagreements: [] };
  assert.equal(isOnPieceAway(whole, { piece: "2" }), false, "all of it went");
});

test("what was signed for under a number that is void came again since, whatever the clock of who signed says", () => {
  const again = (more) => ({
    fields: { ...tag(ONE, 5, { gone: "taken-back" }), ...more },
    disagreements: [],
  });
  const signed = (item) => cameAgainSince(item, [ONE], () => false);
  assert.equal(signed(again(tag(TWO, 7))), true);
  assert.equal(signed(again({})), false, "it is with its owner");
  const other = { fields: { ...tag(ONE, 1), ...tag(TWO, 5, { gone: "taken-back" }) }, disagreements: [] };
  assert.equal(signed(other), false, "it went back before, under another one");
});

test("who signs under a number that was tied after the return had what came again before them", () => {
  const fields = { ...tag(ONE, 1), ...move("m", "returned", 5), ...tag(TWO, 7) };
  const behindTime = (numbers) => cameAgainSince({ fields, disagreements: [] }, numbers, () => true);
  assert.equal(behindTime([ONE, TWO]), false, "whatever the clock of who signed says");
  assert.equal(behindTime([ONE]), true);
});

/** Six forks under one number, of which two devices gave one each back: neither had heard of the other. */
const forks = (...fields) =>
  item({ pieces: set(6, 0) }, tag(ONE, 0), ...fields, {
    [`whereabouts/${TWO}`]: set({ to_place: "returned" }, 11),
  });
const gaveBack = (number, minute, device_id, more = {}) => {
  const [[name, tied]] = Object.entries(tag(number, minute, pair(2, { gone: "taken-back", ...more })));
  return { [name]: { ...tied, device_id } };
};

test("two pieces of a set that two devices gave back under one place are two", () => {
  const both = forks(gaveBack(TWO, 10, "t"), gaveBack(THREE, 12, "u"));
  assert.deepEqual(piecesAway(both), [2, 3]);
  assert.deepEqual(piecesAway(oneThing(oneThing(both))), [2, 3]);
  assert.deepEqual(tagsBack(both), [TWO, THREE]);
  assert.equal(pieceCount(both), 3);
  const carried = move("m", "store", 5, { last: false });
  assert.deepEqual(piecesAway(forks(gaveBack(TWO, 10, "t"), gaveBack(THREE, 12, "u"), carried)), [2, 3]);
  const more = forks(gaveBack(TWO, 10, "t"), gaveBack(THREE, 12, "u"), gaveBack(FOUR, 13, "v"));
  assert.deepEqual(piecesAway(more), [2, 3, 4], "and of three that three gave back each is one");
  const last = forks(gaveBack(TWO, 10, "t"), gaveBack(THREE, 12, "u"), tag(FOUR, 13, { piece: 3, of: 3 }));
  const three = forks(gaveBack(TWO, 10, "t"), gaveBack(THREE, 12, "u"), gaveBack(FOUR, 13, "v"));
  three.fields.pieces = set(3, 0);
  assert.deepEqual(piecesAway(three), [2, 3], "as far as they were counted");
  assert.deepEqual(piecesAway(last), [2, 4], "behind those that have a place");
});

test("what came again between, and what two records have, is one piece", () => {
  const again = forks(gaveBack(TWO, 10, "t"), gaveBack(THREE, 12, "t"));
  assert.deepEqual(piecesAway(again), [2], "by one device, which knew of the first");
  const moved = move("m", "table", 11, { tag: THREE, from_place: "returned", last: false });
  assert.deepEqual(piecesAway(forks(gaveBack(TWO, 10, "t"), gaveBack(THREE, 12, "u"), moved)), [2]);
  const two = behind("i", 1, gaveBack(THREE, 12, "u"));
  const doubled = forks(gaveBack(TWO, 10, "t"));
  assert.deepEqual(piecesAway({ ...doubled, doubles: [two] }), [2]);
  assert.deepEqual(piecesAway(oneThing({ ...doubled, doubles: [two] })), [2]);
  const pairs = item(
    { pieces: set(2, 0) },
    tag(ONE, 0, pair(1)),
    gaveBack(TWO, 10, "t"),
    gaveBack(THREE, 12, "u"),
  );
  assert.deepEqual(piecesAway(pairs), [2], "of a pair with a number each");
});

test("of two that two devices numbered under one place, one went and the other stays", () => {
  const stays = (number, minute, device_id, more = {}) => {
    const [[name, tied]] = Object.entries(tag(number, minute, pair(2, more)));
    return { [name]: { ...tied, device_id } };
  };
  for (const minute of [9, 12]) {
    const both = forks(gaveBack(TWO, 10, "t"), stays(THREE, minute, "u"));
    assert.deepEqual([piecesAway(both), tagsBack(both), tagsHere(both)], [[2], [TWO], [ONE, THREE]]);
    assert.equal(pieceCount(both), 3);
  }
  const later = forks(gaveBack(TWO, 10, "t"), gaveBack(THREE, 20, "u"));
  assert.deepEqual(piecesAway(later), [2, 3], "and it has its place still, once it goes too");
  const here = (...fields) => piecesAway(forks(gaveBack(TWO, 10, "t"), ...fields));
  assert.deepEqual(here(stays(THREE, 12, "t")), [], "the device that gave it back numbers it again");
  const moved = move("m", "table", 12, { tag: THREE, from_place: "returned" });
  assert.deepEqual(here(stays(THREE, 12, "u"), moved), [], "it came from its owner");
  const lost = stays(FOUR, 11, "u", { gone: "lost", replaced_by: THREE });
  assert.deepEqual(here(lost, stays(THREE, 12, "u")), [], "in the place of one that was lost");
});

test("what was not in its container has come once it is moved or put somewhere, and by nothing else", () => {
  const missed = { "check-in": set({ state: "not-here", words: "" }, 5) };
  assert.equal(isNotCome(item(missed, { short_description: set("vase", 7) })), true);
  assert.equal(isNotCome(item(missed, move("m", "store", 3))), true, "it was moved before");
  assert.equal(isNotCome(item(missed, move("m", "store", 7))), false);
  assert.equal(isNotCome(item(missed, inside("box", 7, ONE))), false);
});

test("of a fault on some of a set, of which one went since, nobody noted whether it is here", () => {
  const cups = (severity, minute, gone = { gone: "taken-back" }) =>
    item(
      { pieces: set(3, 0) },
      tag(ONE, 0, { of: 3 }),
      tag(TWO, 5, { piece: 2, of: 3, ...gone }),
      tag(THREE, 0, { piece: 3, of: 3 }),
      {
        "findings/1": set({ zone: "rim", term: "chip", severity, piece_count: 1, withdrawn: false }, minute),
      },
    );
  const open = ["a fault is on 1 of its pieces, and nobody noted whether it is here"];
  assert.deepEqual(onMoreWords(cups(2, 3)), open);
  assert.deepEqual(onMoreWords(cups(0, 3)), [], "there is none of it");
  assert.deepEqual(onMoreWords(cups(2, 7)), [], "it was seen since");
  assert.deepEqual(onMoreWords(cups(2, 3, {})), [], "nothing went");
});

test("a number of which no piece was told is on the first, and what that lost since says that it came again", () => {
  const lost = tag(TWO, 7, { gone: "lost" });
  const vase = item(tag(ONE, 1, { piece: undefined }), move("m", "returned", 5), lost);
  assert.deepEqual(cameAgainBy(vase, ONE), Object.values(lost));
});
