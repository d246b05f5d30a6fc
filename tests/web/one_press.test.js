/** Which presses count: a page of keys that lie where a test says, and a finger that comes down when it says. */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

const page = new EventTarget();
globalThis.addEventListener = page.addEventListener.bind(page);
const keys = [];
const lies = ([left, top, right, bottom], x, y) => x >= left && x < right && y >= top && y < bottom;
globalThis.document = Object.assign(new EventTarget(), {
  elementFromPoint: (x, y) => keys.findLast((key) => lies(key.at, x, y)) ?? null,
});
await import("../../web/parts/one_press.ts");

/** A key of 60 by 60 pixels whose corner is there. */
const key = (textContent, left = 0, top = 0) => ({
  ...{ textContent, at: [left, top, left + 60, top + 60] },
  closest() {
    return this;
  },
  querySelector: () => null,
  hasAttribute: () => false,
});

/** The clock of presses. */
let now = 0;
Object.defineProperty(Event.prototype, "timeStamp", { get: () => now });
const happens = (type, more = {}) => {
  const event = new Event(type, { cancelable: true });
  for (const [name, value] of Object.entries(more)) Object.defineProperty(event, name, { value });
  page.dispatchEvent(event);
  return !event.defaultPrevented;
};

/** A finger comes down so long after the last; true if what lies there is pressed. */
function press(ms, x = 30, y = 30) {
  now += ms;
  happens("pointerdown", { clientX: x, clientY: y });
  return happens("click", { target: document.elementFromPoint(x, y), detail: 1 });
}

const shown = (...next) => keys.splice(0, keys.length, ...next);

beforeEach(() => {
  now += 60_000;
  shown(key("New visit"));
});

for (const ms of [0, 150, 300, 349])
  test(`the key of the next screen takes no press ${ms} ms after one at its place`, () => {
    assert.equal(press(1000), true);
    shown(key("Put an item on the table"));
    assert.equal(press(ms, 38, 22), false);
    assert.equal(press(350), true, "and one after that counts");
  });

for (const ms of [120, 180, 190, 300, 349])
  test(`a third press, a fourth and a fifth in the same haste do nothing either, ${ms} ms apart`, () => {
    press(1000);
    shown(key("Put an item on the table"));
    assert.deepEqual([press(ms), press(ms), press(ms), press(ms, 40, 40)], [false, false, false, false]);
    assert.equal(press(350), true, "and one that was waited for counts");
  });

test("what was meant before the haste is meant after it, too", () => {
  const before = key("Clear");
  shown(before);
  press(1000);
  shown(key("Put an item on the table"));
  assert.equal(press(200), false);
  shown(before);
  assert.equal(press(200), true);
});

test("a screen that came late is read from when it came", () => {
  press(1000);
  shown(key("Put an item on the table"));
  now += 2000;
  happens("hashchange");
  assert.deepEqual([press(340), press(350)], [false, true]);
});

test("one key takes every press, however fast, and so does another that lay beside it", () => {
  const row = [key("Clear"), key("2", 60), key("3", 120)];
  shown(...row);
  assert.deepEqual([press(1000), press(60), press(60), press(60)], [true, true, true, true]);
  assert.deepEqual([press(40, 70), press(40, 100), press(40, 130)], [true, true, true]);
  assert.equal(press(40, 55), true);
});

test("a key that came elsewhere than where the finger was takes a press at once", () => {
  press(1000);
  shown(key("Put an item on the table"), key("Undo", 60, 0));
  assert.equal(press(100, 65), true);
});

test("a key that says something else is another one, unless only the thing or the number is", () => {
  const go = key("Next: dial");
  shown(go);
  press(1000);
  go.textContent = "Next: hands";
  assert.equal(press(100), true);
  go.textContent = "All zones done";
  assert.equal(press(100), false);
  const count = key("Rest clear (12)");
  shown(count);
  press(1000);
  count.textContent = "Rest clear (11)";
  assert.equal(press(100), true);
});

test("keys of the keyboard, and presses that the app makes itself, are not a finger's", () => {
  press(1000);
  shown(key("Put an item on the table"));
  assert.equal(happens("click", { target: keys[0], detail: 0 }), true);
});
