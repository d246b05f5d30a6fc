/**
 * The shapes that the app's modules pass to each other. The office's models are their source.
 *
 * @typedef {{operation_id: string, kind: string, made_at: string, made_by: string, device_id: string,
 *   device_seq: number, seen?: string|null, [member: string]: any}} Operation
 * @typedef {{value: any, operation_id: string, made_by: string, made_at: string, device_id: string}} FieldValue
 * @typedef {{disagreement_id: string, field: string, kept: FieldValue, other: FieldValue, settled: any}} Disagreement
 * @typedef {{kind: "day"|"visit"|"item", record_id: string, day_id: string, opened_at: string, opened_by: string,
 *   office_seq?: number, visit_id?: string, fields: Record<string, FieldValue>, disagreements: Disagreement[],
 *   [member: string]: any}} RecordCopy
 * @typedef {{code: string, title: string, detail: string, hint: string}} Problem
 * @typedef {{operation_id: string, outcome: "kept"|"refused", office_seq: number, disagreement: boolean,
 *   problem: Problem|null}} Answer
 * @typedef {{zone: string, words: string, members: string[]|"counted", weight: string, photo: "always"|"finding",
 *   usual: string[]}} Zone
 * @typedef {{class_id: string, version: string, name: string, frame: string, frame_note: string, count_start: string,
 *   refer_only: boolean, zones: Zone[], tests: any[], views: {view: string, words: string}[], marks: string[],
 *   measures: {measure: string, words: string}[], questions: string[], negatives: any[], hazards: string[],
 *   instructions: {do: string[], do_not: string[]}}} Plan
 * @typedef {{term: string, said_as: string[], definition: string, severity: number, activity: string,
 *   extents: string[], lookalikes: string[]}} Term
 * @typedef {{plans: Record<string, Plan>, vocabulary: {terms: Term[]}, words: {
 *   reasons: {reason: string, words: string}[], severities: {severity: number, words: string, meaning: string}[],
 *   extents: {words: string, share: string}[], lights: {light: string, words: string}[]}}} PlanBook
 */

export {};
