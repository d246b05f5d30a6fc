/** Tickets and receipts: two devices with no network never give one number twice, and what is doubled is named. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { nextRun } from "../../web/job/next_run.ts";
import { nextReceiptNumber } from "../../web/job/receipt_number.ts";
import { HIGHEST_TICKET, lettersOf, nextTicket, ticketRuns, typedTicket } from "../../web/job/tickets.ts";
import { doubledTickets, ofOthersRun, sharersOf } from "../../web/job/tickets_shared.ts";
import { differencesOn } from "./differences_of.js";

const set = (value, device_id = "") => ({ value, operation_id: "", made_by: "", made_at: "", device_id });
const record = (kind, record_id, fields) => ({ kind, record_id, day_id: "d", disagreements: [], fields });
const visit = (ticket, id = ticket) => record("visit", id, { ticket: set(ticket), stage: set("left") });
const run = (first, last, device_id) => set({ first, last, given_to: "Door", for_device_id: device_id });
const day = (runs = {}) => ({ ...record("day", "d", runs), tables: [] });
const ONE = { device_id: "one", letters: "A" };
const OTHER = { device_id: "other", letters: "B" };

test("two doors with no network give all their tickets and none of them twice", () => {
  const given = day({ "ticket-runs/1": run(1, 12, "one"), "ticket-runs/2": run(13, 24, "other") });
  const seenBefore = [visit("Q01"), visit("Q13")];
  const each = [ONE, OTHER].map((device) => {
    const visits = [...seenBefore];
    for (let number = 0; number < 30; number += 1)
      visits.push(visit(nextTicket(given, visits, device, []).ticket));
    return visits.slice(seenBefore.length).map(({ record_id }) => record_id);
  });
  assert.equal(new Set(each.flat()).size, 60);
  assert.deepEqual(each[0].slice(9, 13), ["Q11", "Q12", "A01", "A02"]);
  assert.ok(each.flat().every((ticket) => ticket.length <= 4));
});

test("no ticket of a run is given before the office has kept it", () => {
  const given = day({
    "ticket-runs/1": { ...run(1, 12, "one"), operation_id: "kept" },
    "ticket-runs/2": { ...run(13, 24, "one"), operation_id: "new" },
  });
  const next = (unheard, seen = [visit("Q12")]) => nextTicket(given, seen, ONE, unheard).ticket;
  assert.equal(next([{ operation_id: "new" }]), "A01");
  assert.equal(next([]), "Q13");
  const sentAgain = [{ operation_id: "kept", again: "kept" }];
  assert.equal(next(sentAgain, [visit("Q04")]), "Q05", "the office had it once");
});

test("a ticket that was typed is named as of another device's run, and one that was given in its run is not", () => {
  const given = day({
    "ticket-runs/1": run(1, 12, "one"),
    "ticket-runs/2": { ...run(13, 24, null), given_to: "" },
  });
  const typedBy = (ticket, device_id) =>
    ofOthersRun(given, record("visit", "v", { ticket: set(ticket, device_id) }), []);
  assert.equal(typedBy("q 02", "other"), "Door");
  assert.deepEqual([typedBy("Q02", "one"), typedBy("Q13", "other"), typedBy("Q99", "other")], ["", "", ""]);
  assert.deepEqual([typedBy("B01", "other"), typedBy("", "other")], ["", ""]);
});

test("a door is told how many tickets are left, and that it never had any", () => {
  const given = day({ "ticket-runs/1": run(1, 12, "one") });
  assert.deepEqual(nextTicket(given, [visit("Q04")], ONE, []), {
    ticket: "Q05",
    left: 8,
    isFew: false,
    hasRun: true,
  });
  assert.deepEqual(nextTicket(given, [visit("Q12")], ONE, []), {
    ticket: "A01",
    left: 0,
    isFew: true,
    hasRun: true,
  });
  assert.deepEqual(nextTicket(given, [visit("B07")], OTHER, []), {
    ticket: "B08",
    left: 0,
    isFew: true,
    hasRun: false,
  });
});

test("a ticket that was changed by hand is used up, for every device that heard of it", () => {
  const given = day({ "ticket-runs/1": run(1, 12, "one") });
  const changed = (from, to, id) => {
    const of = visit(to, id);
    return { ...of, fields: { ...of.fields, [`tickets-before/${id}`]: set(from) } };
  };
  const first = [visit("Q01"), visit("Q02"), changed("Q03", "Q01", "c")];
  const next = nextTicket(given, first, ONE, []);
  assert.deepEqual([next.ticket, next.left], ["Q04", 9]);
  assert.equal(nextTicket(given, [...first, visit("Q04")], ONE, []).ticket, "Q05");
  assert.equal(nextTicket(day(), [changed("b 01", "Q01", "v")], OTHER, []).ticket, "B02", "of its letters");
  const slip = changed("Q11", "Q01", "v");
  assert.equal(nextTicket(given, [slip], ONE, []).ticket, "Q02", "a slip of the hand burns one, not the run");
  assert.equal(nextTicket(given, [slip, visit("Q10")], ONE, []).ticket, "Q12");
  const two = { field: "ticket", kept: set("Q02"), other: set("Q03") };
  const contested = { ...visit("Q02"), disagreements: [two] };
  assert.equal(nextTicket(given, [contested], ONE, []).ticket, "Q04", "what two people said is both used up");
});

test("a second run follows the first, and one of another door's counts for nothing", () => {
  const runs = { "ticket-runs/1": run(1, 2, "one"), "ticket-runs/2": run(50, 60, "one") };
  const given = day({ ...runs, "ticket-runs/3": run(3, 49, "other") });
  const visits = [visit("Q01"), visit("Q02"), visit("Q30")];
  assert.equal(nextTicket(given, visits, ONE, []).ticket, "Q50");
  assert.deepEqual(
    ticketRuns(given, visits).map(({ used }) => used),
    [2, 28, 0],
  );
});

test("a device of before, which was given no letters, has some of its own all the same", () => {
  const ids = ["019cebae-65a8-716b-aab7-7385aedd7d65", "018f0000-0000-7000-8000-000000000001"];
  const letters = ids.map((device_id) => lettersOf({ device_id }));
  // They stand on what it has printed: the last eight digits of its id in sevens, the least first.
  assert.deepEqual(letters, ["YBFB", "BAAA"]);
});

test("a doubled ticket is named however it was typed, at the closing for both visits", () => {
  const visits = [visit("Q42", "1"), visit(" q42", "2"), visit("Q43", "3"), visit("", "4"), visit("", "5")];
  assert.deepEqual(
    [...doubledTickets(visits)].map(([ticket, two]) => [ticket, two.length]),
    [["Q42", 2]],
  );
  const without = ["6", "7"].map((id) => ({ ...visit("", id), fields: {} }));
  assert.equal(doubledTickets(without).size, 0, "nor do two that have none share one");
  const found = differencesOn({ day: day(), visits, items: [], containers: [], plan: () => null });
  assert.deepEqual(
    found.map(({ kind, at }) => [kind, at]),
    [
      ["ticket-on-two", "#/visit/1"],
      ["ticket-on-two", "#/visit/2"],
    ],
  );
  assert.match(found[0].words, /^Q42 \(came .*\): 2 owners hold this ticket/);
});

test("two devices that sign for one ticket never write one number", () => {
  const signed = (number, device_id) => set({ number, what: "left", lines: [] }, device_id);
  const both = record("visit", "v", {
    ticket: set("Q42"),
    "receipts/1": signed("Q42/A1", "one"),
    "receipts/2": signed("Q42/B1", "other"),
  });
  assert.equal(nextReceiptNumber(both, [both], ONE), "Q42/A2");
  assert.equal(nextReceiptNumber(both, [both], OTHER), "Q42/B2");
  assert.equal(nextReceiptNumber(visit("Q42"), [], OTHER), "Q42/B1");
});

test("one device that signs for two owners with one ticket never writes one number", () => {
  const receipt = (number) => set({ number, what: "left", lines: [] }, "one");
  const first = record("visit", "1", { ticket: set("Q42"), "receipts/1": receipt("Q42/A1") });
  const second = visit(" q42", "2");
  assert.equal(nextReceiptNumber(second, [first, second], ONE), "q42/A2");
  // The first was given another ticket since, and goes on with its own count; its receipt stays as it was signed.
  const moved = { ...first, fields: { ...first.fields, ticket: set("Q43") } };
  assert.equal(nextReceiptNumber(second, [moved, second], ONE), "q42/A2");
  assert.equal(nextReceiptNumber(moved, [moved, second], ONE), "Q43/A2");
  assert.equal(nextReceiptNumber(second, [moved, second], OTHER), "q42/B1");
});

test("a new run begins behind the tickets that owners have, also where no run was given before", () => {
  const visits = [visit("Q01"), visit("Q02"), visit("Q40"), visit("Q777")];
  assert.deepEqual(nextRun([], visits, 100), { first: 41, last: 140 });
  assert.deepEqual(nextRun([{ last: 60 }], visits, 100), { first: 61, last: 160 });
  assert.deepEqual(nextRun([{ last: 760 }], visits, 100), { first: 778, last: 877 });
  const changed = { ...visit("Q03"), fields: { ...visit("Q03").fields, "tickets-before/1": set("Q07") } };
  assert.deepEqual(nextRun([], [changed], 5), { first: 8, last: 12 });
  assert.deepEqual(nextRun([], [], 5), { first: 1, last: 5 });
  assert.ok(nextRun([{ last: 950 }], [visit("Q999")], 100).first > HIGHEST_TICKET);
});

test("a typed ticket is kept as it is called, however it was typed", () => {
  assert.equal(typedTicket(" q01 "), "Q01");
  assert.equal(typedTicket("the  blue one"), "THE BLUE ONE");
  assert.equal(typedTicket("  "), "");
});

test("whoever shares a ticket is told who the others are, and nobody shares none", () => {
  const [one, two, other, none, nor] = [
    ...[visit("Q42", "1"), visit(" q42", "2"), visit("Q43", "3"), visit("", "4"), visit("", "5")],
  ];
  const all = [one, two, other, none, nor];
  const shares = all.map((of) => sharersOf(of, all).map(({ record_id }) => record_id));
  assert.deepEqual(shares, [["2"], ["1"], [], [], []]);
});
