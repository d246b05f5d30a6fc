import assert from "node:assert/strict";
import { test } from "node:test";
import { readiness } from "../../web/job/preflight.ts";

const NOW = Date.parse("2026-03-14T08:30:00Z");
const said = (value) => ({ value, operation_id: "", made_by: "", made_at: "", device_id: "" });
const HALL = {
  name: "thimblewick.local",
  groups: [],
  fingerprint: "",
  shown_until: "2027-03-14T08:00:00Z",
  valid_until: "2031-03-14T08:00:00Z",
  addresses: [],
  pages: ["http://10.42.0.1:8766"],
  qr_svg: "",
};
const CHECK = {
  states: { camera: "good", clock: "good" },
  room_bytes: 9e9,
  clock_off_ms: 0,
  battery_percent: 64,
  charging: false,
  checked_at: "2026-03-14T08:00:00Z",
  passed: true,
};
const SEEN = { paired_at: "2026-03-13T16:00:00Z", last_seen_at: "2026-03-14T08:25:00Z" };

/** A day with everything ready, and what a test changes of it. */
function given({ day = {}, fields = {}, office = {}, expected = {}, ...more } = {}) {
  const ready = {
    record_id: "d",
    day_id: "d",
    kind: "day",
    house: "Thimblewick's Saleroom",
    place: "Old Corn Hall",
    held_on: "2026-03-14",
    currency: "GBP",
    tables: [{ table_id: "1", name: "Table 1" }],
    disagreements: [],
    fields: {
      "people/hester": said({ person_id: "hester", name: "Hester", roles: ["valuer"] }),
      "rolls/r": said({ first_tag: "000011", last_tag: "00003Z", count: 100 }),
      "roll-holders/r": said({ given_to: "Table 1", for_device_id: null }),
      ...fields,
    },
    ...day,
  };
  return {
    day: ready,
    days: [ready],
    expected: { items: 80, labels: 100, pads: true, ...expected },
    office: {
      hall: HALL,
      office_time: "2026-03-14T08:30:00Z",
      free_bytes: 500e9,
      copies: [
        {
          folder: "/media/stick",
          says: "Everything the office has stands in the copy.",
          hint: "",
          in_reach: true,
        },
      ],
      devices: [{ ...SEEN, device_id: "1", name: "Table 1", role: "table", check: CHECK }],
      ...office,
    },
    secure: true,
    clock_off_ms: 100,
    now: NOW,
    ...more,
  };
}
const wanting = (changed) =>
  readiness(given(changed))
    .filter(({ ready }) => !ready)
    .map(({ words }) => words);

test("with everything ready nothing is warned of, and every line says so in words", () => {
  assert.deepEqual(wanting({}), []);
  for (const { words, todo } of readiness(given({})))
    assert.deepEqual([/^[A-Z0-9].*\.$/.test(words), todo], [true, ""], words);
});

for (const [what, changed, words] of [
  [
    "nobody is there",
    { fields: { "people/hester": said({ name: "Hester", roles: ["clerk"] }) } },
    /1 person, 0 valuers/,
  ],
  ["there is no table", { day: { tables: [] } }, /0 tables/],
  [
    "more things are expected than numbers",
    { expected: { items: 101, labels: 200 } },
    /100 tag numbers given out for 101/,
  ],
  [
    "a number was struck through",
    { fields: { "spoiled/000011": said({}) }, expected: { items: 100 } },
    /99 tag numbers/,
  ],
  ["nobody counted the labels", { expected: { labels: null } }, /Nobody has counted/],
  ["labels are short", { expected: { labels: 79 } }, /79 printed labels in hand for 80/],
  ["pads are missing", { expected: { pads: false } }, /paper pads/],
  ["there is no hall and no certificate", { secure: false, office: { hall: null } }, /without a certificate/],
  [
    "the certificate ends today",
    { office: { hall: { ...HALL, shown_until: "2026-03-14T23:00:00Z" } } },
    /counts until 14 March 2026/,
  ],
  ["there is no network", { office: { hall: { ...HALL, pages: [] } } }, /in no network/],
  [
    "the disk is short",
    { office: { free_bytes: 2e9 } },
    /2.0 GB free at the office; 80 things may bring 2.4 GB/,
  ],
  ["the clocks differ", { clock_off_ms: -120_000 }, /clock is 2 minutes ahead/],
  [
    "no phone is paired",
    { office: { hall: null, devices: [{ ...SEEN, name: "Desk", role: "desk", check: null }] } },
    /No device for door, table or porter/,
  ],
  [
    "a phone was never checked",
    { office: { devices: [{ ...SEEN, name: "Door", role: "door", check: null }] } },
    /Door was never checked/,
  ],
  [
    "a phone did not pass",
    {
      office: {
        devices: [
          {
            ...SEEN,
            name: "Door",
            role: "door",
            check: { ...CHECK, states: { camera: "not-good", clock: "not-good" } },
          },
        ],
      },
    },
    /Door: camera, clock, battery 64 %/,
  ],
  [
    "a check is old",
    {
      office: {
        devices: [
          { ...SEEN, name: "Door", role: "door", check: { ...CHECK, checked_at: "2026-03-12T08:30:00Z" } },
        ],
      },
    },
    /Door passed its check 2 days ago/,
  ],
  ["no second place keeps a copy", { office: { copies: [] } }, /No second place keeps a copy/],
  [
    "a copy was pulled out",
    {
      office: {
        copies: [{ folder: "/media/stick", says: "The stick is not there.", hint: "", in_reach: false }],
      },
    },
    /Copy in .media.stick: The stick is not there/,
  ],
  [
    "a copy lies on the office's own disk",
    {
      office: {
        copies: [
          {
            folder: "/tmp/stick",
            says: "The copy is being brought up to date.",
            hint: "",
            in_reach: true,
            same_disk: true,
          },
        ],
      },
    },
    /Copy in .tmp.stick: .* no second place/,
  ],
  ["the office is not reached", { office: undefined }, /office is not reached/],
]) {
  test(`it warns when ${what}`, () => {
    const found =
      what === "the office is not reached"
        ? readiness({ ...given({}), office: null })
            .filter(({ ready }) => !ready)
            .map((one) => one.words)
        : wanting(changed);
    assert.equal(found.length, 1, found.join(" | "));
    assert.match(found[0], words);
  });
}

test("as many numbers and labels as things are enough", () => {
  assert.deepEqual(wanting({ expected: { items: 100, labels: 100 } }), []);
});

test("two tables on one roll are warned of", () => {
  const tables = [1, 2].map((one) => ({ table_id: `${one}`, name: `Table ${one}` }));
  assert.match(wanting({ day: { tables } }).join(), /1 roll for 2 tables: Table 1/);
});

test("a roll in the office, for whoever runs out or with a porter is no table's", () => {
  const table = (n) => ({ ...SEEN, device_id: `t${n}`, name: `Table ${n}`, role: "table", check: CHECK });
  const porter = { ...table(3), device_id: "p", name: "Porter", role: "porter" };
  const roll = (given_to, for_device_id = null) => ({ given_to, for_device_id });
  const rollsWith = (holders, devices = [table(1), table(2), porter]) => {
    const rolls = holders.flatMap((holder, n) => [
      [`rolls/${n}`, said({ first_tag: "000011", last_tag: "00003Z", count: 100 })],
      [`roll-holders/${n}`, said(holder)],
    ]);
    const base = given({
      day: { tables: [1, 2].map((one) => ({ table_id: `${one}`, name: `Table ${one}` })) },
      office: { devices },
    });
    const { "people/hester": hester } = base.day.fields;
    base.day.fields = { "people/hester": hester, ...Object.fromEntries(rolls) };
    const { ready, words } = readiness(base).find((one) => /rolls? for 2 tables/.test(one.words));
    return [ready, words];
  };
  const one = roll("Table 1", "t1");
  const spares = [roll("printed stock"), one, roll("spare")];
  assert.deepEqual(rollsWith(spares), [
    false,
    "3 rolls for 2 tables: printed stock, Table 1, spare; none for Table 2.",
  ]);
  assert.equal(rollsWith([one, roll("table  2")])[0], true, "given out by name, before it was paired");
  assert.deepEqual(rollsWith([one, roll("Porter", "p")], [table(1), porter]), [
    false,
    "2 rolls for 2 tables: Table 1, Porter; 1 of them with a table.",
  ]);
  assert.equal(rollsWith([one, one], [table(1)])[0], false, "two rolls with one table");
});

test("an earlier day that is open is named, a closed one is not", () => {
  const base = given({});
  const before = (fields) => ({
    ...base.day,
    record_id: "e",
    held_on: "2026-02-14",
    place: "Drill Hall",
    fields,
  });
  const open = readiness({ ...base, days: [base.day, before({})] }).filter(({ ready }) => !ready);
  assert.ok(open.some(({ words }) => words === "The day of 14 February 2026 in Drill Hall is still open."));
  const closed = readiness({ ...base, days: [base.day, before({ closed: said({}) })] });
  assert.ok(!closed.some(({ words }) => words.includes("Drill Hall")));
});

test("until somebody says how many things are expected, what hangs on it is neither ready nor short", () => {
  const expected = { items: 0, labels: 0, pads: true };
  assert.deepEqual(wanting({ expected }), ["Nobody has said how many things are expected."]);
  const all = readiness(given({ expected })).map(({ words }) => words);
  assert.ok(!all.some((words) => /\b0 (things|MB|tag numbers|printed labels)/.test(words)), all.join(" | "));
});

test("the laptop counts as found when a phone has reached it, a desk is no phone", () => {
  const found = (devices) =>
    readiness(given({ office: { devices } })).find(({ words }) => words.includes(HALL.pages[0]));
  const phone = { ...SEEN, name: "Door", role: "door", check: CHECK };
  const never = "Phones are to find the laptop at http://10.42.0.1:8766; no phone has reached it yet.";
  assert.deepEqual(
    [[], [{ ...phone, role: "desk" }], [phone], [{ ...phone, last_seen_at: "2026-03-11T08:30:00Z" }]]
      .map(found)
      .map(({ ready, words }) => [ready, words]),
    [
      [false, never],
      [false, never],
      [true, "Phones find the laptop at http://10.42.0.1:8766; Door reached it 5 minutes ago."],
      [
        false,
        "Phones are to find the laptop at http://10.42.0.1:8766; Door reached it 3 days ago, the last.",
      ],
    ],
  );
  assert.equal(found([{ ...phone, last_seen_at: null }]).ready, true); // to be paired it had to reach it
});

test("the command for a second place keeps the hall", () => {
  const todo = (hall) =>
    readiness(given({ office: { hall, copies: [] } })).find(({ words }) =>
      words.startsWith("No second place"),
    ).todo;
  assert.match(todo(HALL), /intake serve --hall --copy-to FOLDER/);
  assert.match(todo(null), /intake serve --copy-to FOLDER/);
});

test("a served certificate that is not the hall's is good enough", () => {
  assert.deepEqual(wanting({ office: { hall: null } }), []);
});
