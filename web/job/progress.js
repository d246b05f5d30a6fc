/**
 * How far an item is: the walk through its zones, and what is still missing.
 *
 * @import { Plan, RecordCopy, Zone } from "./types.js"
 */
import { findingsOn, listed, valueOf } from "./record.js";

/** The keys under which a zone's states are recorded. @param {Zone} zone */
export function keysOf(zone) {
  return Array.isArray(zone.members) && zone.members.length ? zone.members.map((member) => `${zone.zone}/${member}`) : [zone.zone];
}

/**
 * Every zone state of the plan in walk order.
 * @param {Plan} plan @param {RecordCopy} record
 */
export function walk(plan, record) {
  return plan.zones.flatMap((zone) =>
    keysOf(zone).map((key) => ({
      key,
      zone,
      member: key.split("/")[1] ?? null,
      state: /** @type {{state: string, reason: string|null, light: string|null, count: number|null}|undefined} */ (
        valueOf(record, `zones/${key}`)
      ),
      findings: findingsOn(record, key),
      photos: photosOf(record).filter(({ value }) => value.zone === key),
    })),
  );
}

/** A zone's name for people: "ears, proper right". @param {string} key */
export function zoneName(key) {
  return key.replace("viewers-", "viewer's-").replaceAll("-", " ").replace("/", ", ");
}

/** The photos that were not withdrawn, in the order taken. @param {RecordCopy} record */
export function photosOf(record) {
  return listed(record, "photos/")
    .filter(({ value }) => !value.withdrawn)
    .sort((one, other) => one.value.taken_at.localeCompare(other.value.taken_at));
}

/** The tags that are on it: those that fell off or were voided are not. @param {RecordCopy} record @returns {string[]} */
export function tagsOf(record) {
  return listed(record, "tags/").filter(({ value }) => !value.gone).map(({ value }) => value.tag);
}

/** A view whose words say "if" is taken where it applies; the others always. @param {{words: string}} view */
export function isRequired({ words }) {
  return !/\bif\b/.test(words);
}

/** A test that is never allowed is a rule of the class and has no result. @param {{never_when: string}} test */
export function isTest({ never_when }) {
  return never_when !== "always";
}

/**
 * What is still missing on an item, in the order of the work.
 * @param {Plan|null} plan @param {RecordCopy} record
 * @returns {{what: string, words: string, at: string}[]} `at` is the screen where it is done
 */
export function missing(plan, record) {
  /** @type {{what: string, words: string, at: string}[]} */
  const found = [];
  const say = (/** @type {string} */ what, /** @type {string} */ words, /** @type {string} */ at) => found.push({ what, words, at });
  if (!plan) say("class", "Choose what kind of thing it is", "");
  if (!valueOf(record, "short_description")) say("name", "Say in a few words what it is", "");
  if (!valueOf(record, "maker_certainty")) say("maker", "Say how sure you are of the maker", "");
  if (!valueOf(record, "dates_certainty")) say("dates", "Say how sure you are of the date", "");
  if (plan && !plan.refer_only) {
    const left = walk(plan, record).filter((step) => !step.state).length;
    if (left) say("zones", left === 1 ? "1 zone is left" : `${left} zones are left`, "/zones");
    if (!listed(record, "marks/").some(({ value }) => !value.withdrawn) && !valueOf(record, "marks_looked")) say("marks", "Transcribe the marks, or say where you looked", "/marks");
    const tests = plan.tests.filter((test) => isTest(test) && !valueOf(record, `tests/${test.test}`)).length;
    if (tests) say("tests", tests === 1 ? "1 test has no result" : `${tests} tests have no result`, "/works");
    if (!listed(record, "measures/").some(({ value }) => value.value)) say("measures", "Nothing is measured", "/measures");
    const taken = new Set(photosOf(record).map(({ value }) => value.view));
    const views = plan.views.filter((view) => isRequired(view) && !taken.has(view.view)).length;
    if (views) say("views", views === 1 ? "1 view is missing" : `${views} views are missing`, "/photos");
  }
  if (!tagsOf(record).length) say("tag", "No tag is tied to it", "/tag");
  return found;
}
