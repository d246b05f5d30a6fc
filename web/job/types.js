/**
 * The shapes that the app's modules pass to each other. The office's models are their source.
 *
 * @typedef {{operation_id: string, kind: string, made_at: string, made_by: string, device_id: string,
 *   device_seq: number, seen?: string|null, [member: string]: any}} Operation
 * @typedef {{value: any, operation_id: string, made_by: string, made_at: string, device_id: string}} FieldValue
 * @typedef {{disagreement_id: string, field: string, kept: FieldValue, other: FieldValue, settled: any}} Disagreement
 * @typedef {{kind: "day"|"visit"|"item"|"container", record_id: string, day_id: string, opened_at: string, opened_by: string,
 *   office_seq?: number, visit_id?: string, fields: Record<string, FieldValue>, disagreements: Disagreement[],
 *   [member: string]: any}} RecordCopy
 * @typedef {{code: string, title: string, detail: string, hint: string}} Problem
 * @typedef {{operation_id: string, outcome: "kept"|"refused", office_seq: number, disagreement: boolean,
 *   problem: Problem|null}} Answer
 * @typedef {{zone: string, words: string, members: string[]|"counted", weight: string, photo: "always"|"finding",
 *   optional: boolean, usual: string[]}} Zone
 * @typedef {{test: string, how: string, said: string|null, never_when: string, lights: string[], stopped_by: string[]}} FunctionTest
 * @typedef {{negative: string, words: string, needs: string, zones: string[], terms: string[], lights: string[],
 *   stopped_by: string[]}} Negative
 * @typedef {{question: string, zones: string[], terms: string[], tests: string[], measures: string[], facts: string[]}} Question
 * @typedef {{measure: string, unit: "mm"|"g"|"n", most: number, words: string}} Measure
 * @typedef {{zone: string|null, shape: string, attributes: Record<string, string>}} Shape
 * @typedef {{outline: string, words: string, width: number, height: number, shapes: Shape[]}} Outline
 * @typedef {{class_id: string, version: string, name: string, frame: "proper"|"viewer"|"own", frame_note: string, count_start: string,
 *   refer_only: boolean, scale: string[], zones: Zone[], tests: FunctionTest[], views: {view: string, words: string}[], marks: string[],
 *   measures: Measure[], questions: Question[], negatives: Negative[], hazards: string[],
 *   instructions: {do: string[], do_not: string[]}}} Plan
 * @typedef {{term: string, family: string, says: string|null, noun: string|null, counted: boolean, said_as: string[],
 *   definition: string, severity: number, activity: string, extents: string[], lookalikes: string[]}} Term
 * @typedef {{hazard: string, name: string, subject: string, sign: string, synonyms: string[], level: "red"|"amber"|"note",
 *   caution: string, first_minute: string[], may: string, may_not: string, who: string, extent: string, sources: string[],
 *   checked_on: string|null, unchecked: string|null, still_allowed: import("./stopped.js").Still[]|null, goes_home: boolean,
 *   forbids: {classes: string[], tests: string[], lights: string[]}[], basis: string}} Caution
 * @typedef {{country: string, notice: string, emergency: string, card: string[], urgent: string[], unknown: string,
 *   cautions: Caution[]}} CautionPack
 * @typedef {{plans: Record<string, Plan>, vocabulary: {terms: Term[]}, outlines: Record<string, Outline[]>,
 *   cautions: CautionPack, words: {
 *   reasons: {reason: string, words: string}[], severities: {severity: number, words: string, meaning: string}[],
 *   activities: {activity: string, words: string, meaning: string}[],
 *   certainties: {certainty: string, words: string, meaning: string}[],
 *   originalities: {originality: string, words: string, meaning: string}[],
 *   evidences: {evidence: string, words: string, strength: string}[], techniques: {technique: string, words: string}[],
 *   extents: {words: string, share: string}[], lights: {light: string, words: string}[], caveat: string, dates: import("./dates.js").Conventions}}} PlanBook
 */

export {};
