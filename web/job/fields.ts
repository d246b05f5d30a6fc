/**
 * What stands in a record's fields, by their names. The shapes are members of the office's models: whatever changes
 * there does not compile here until it is followed.
 */
import type { DateCertainty, FamilyKey, MakerCertainty } from "./kinds.ts";
import type {
  AttachPhoto,
  AttachRecordPhoto,
  CarryRoll,
  CheckIn,
  CloseDay,
  CorrectDay,
  CountLoad,
  CountPieces,
  DecideCaution,
  ExamineZone,
  ExplainDifferences,
  GiveRoll,
  GiveTickets,
  IssueRoll,
  ListPiece,
  MergeItem,
  Person,
  PrintLabels,
  PutInside,
  RaiseCaution,
  RaiseDifference,
  RecordDate,
  RecordDenial,
  RecordFinding,
  RecordGrade,
  RecordIncident,
  RecordMark,
  RecordMeasure,
  RecordMove,
  RecordOrigin,
  RecordPreflight,
  RecordStatement,
  RecordTest,
  RemoveTag,
  SealContainer,
  SetConsignor,
  SetEntry,
  SetItem,
  SetTable,
  SettleDifference,
  SettleIncident,
  SettleLateAct,
  SetVisit,
  SignClosing,
  SignReceipt,
  SkipView,
  SpoilTag,
  TieTag,
  WriteSentence,
} from "./operations.ts";

/** Members of an operation as its field keeps them: what was left out is null. */
type Kept<Op, Member extends keyof Op> = { [M in Member]-?: Exclude<Op[M], undefined> };

export type ZoneState = Kept<ExamineZone, "state" | "reason" | "light" | "count">;
export type FindingValue = Kept<
  RecordFinding,
  | "zone"
  | "term"
  | "side"
  | "severity"
  | "extent_mm"
  | "extent_mm_across"
  | "extent_percent"
  | "extent_count"
  | "extent_words"
  | "activity"
  | "certainty"
  | "origin"
  | "note"
  | "withdrawn"
> &
  Partial<Kept<RecordFinding, "light" | "piece" | "piece_count" | "piece_words">>;
export type ListedPiece = Kept<ListPiece, "words" | "count" | "withdrawn">;
export type MarkValue = Kept<
  RecordMark,
  "place" | "technique" | "colour" | "completeness" | "text" | "reading" | "withdrawn"
> &
  Partial<Kept<RecordMark, "standing">>;
export type DateValue = Kept<RecordDate, "words" | "earliest" | "latest" | "edtf">;
export type Size = Kept<RecordMeasure, "value" | "unit" | "typed"> & Partial<Kept<RecordMeasure, "basis">>;
export type TestValue = Kept<RecordTest, "result" | "why" | "note">;
/** `still_allowed` is what its row allowed when it was raised; a record from before that was told has none. */
export type CautionValue = Kept<RaiseCaution, "hazard" | "level" | "sign" | "zone" | "called" | "place"> &
  Partial<Pick<RaiseCaution, "still_allowed">>;
export type CautionDecision = Kept<
  DecideCaution,
  "decision" | "decided_by" | "cleared_for" | "place" | "paper_given" | "note"
>;
type PhotoFile = "sha256" | "bytes" | "media_type" | "width" | "height" | "thumb_sha256" | "thumb_bytes";
/** A picture of an item has a view, a zone and a finding; one of a visit or a day has the difference it shows. */
export type PhotoValue = Kept<AttachPhoto, PhotoFile | "taken_at" | "withdrawn"> &
  Partial<Kept<AttachPhoto, "view" | "zone" | "finding_id"> & Kept<AttachRecordPhoto, "difference_id">>;
/** A number on a thing, and what became of it. */
export type TagValue = Kept<TieTag, "tag" | "piece" | "of" | "mark"> & {
  parts?: boolean;
  gone: RemoveTag["why"] | null;
  replaced_by: string | null;
};
export type MoveValue = Kept<
  RecordMove,
  "from_place" | "to_place" | "at" | "given_by" | "taken_by" | "count" | "signed" | "tag"
>;
export type Place = RecordMove["to_place"];
export type Whereabouts = MoveValue & { move_id: string };
export type Inside = Kept<PutInside, "container_id">;
/**
 * What stood above its lines was not said by apps of before, nor who took something back; on which paper it was signed
 * goes with the signature.
 */
export type ReceiptValue = Kept<SignReceipt, "number" | "what" | "lines" | "replaces"> &
  Partial<Kept<SignReceipt, "head">> & { is_on_paper?: true; is_unnamed?: true };
/**
 * What left, or came: its numbers, what lay in its containers, its driver and the load that it is the arrival of only
 * where they were said.
 */
export type LoadValue = Kept<
  CountLoad,
  "to_place" | "at" | "given_by" | "taken_by" | "crates" | "pieces" | "scanned_crates" | "scanned_pieces"
> &
  Partial<Kept<CountLoad, "numbers" | "packed" | "driver" | "of_load">>;
export type DifferenceValue = Kept<
  RaiseDifference,
  "difference" | "thing_id" | "words" | "owner_told" | "told"
>;
export type IncidentValue = Kept<
  RecordIncident,
  "hazard" | "level" | "sign" | "ticket" | "place" | "seen_at"
>;
export type IncidentEnd = Kept<SettleIncident, "ended" | "settled_by" | "present" | "words">;
/** What the desk made of a sentence. */
export type SentenceVersion = Kept<
  WriteSentence,
  "text" | "sentence" | "speaks_of" | "record_words" | "version" | "words"
>;
export type GradeValue = Kept<RecordGrade, "word" | "computed" | "reason">;

/** Fields of which a record has several, by the word before the stroke. */
export interface Families {
  /** Of one of its numbers, where only some of them lay in what was unpacked. */
  "check-in": CheckValue;
  people: Person;
  tables: Kept<SetTable, "name" | "gone">;
  "ticket-runs": Kept<GiveTickets, "first" | "last" | "given_to" | "for_device_id">;
  /** What a visit was called by before its ticket was changed, by the operation that gave it. */
  "tickets-before": string;
  /** With the roll of another day, where its unused numbers go on. */
  rolls: Kept<IssueRoll, "first_tag" | "last_tag" | "count"> & Partial<Kept<CarryRoll, "from_roll_id">>;
  "roll-holders": Kept<GiveRoll, "given_to" | "for_device_id">;
  preflights: Kept<RecordPreflight, "items_expected" | "labels_printed" | "ready" | "not_ready">;
  prints: Kept<PrintLabels, "roll_id" | "label" | "rows">;
  spoiled: Kept<SpoilTag, "tag" | "why">;
  loads: LoadValue;
  differences: DifferenceValue;
  "difference-ends": Kept<SettleDifference, "ended" | "words" | "second_by">;
  /** What is known of differences, said before the day is closed. */
  /** Its list is empty and has no digest where it was taken back. */
  "first-signings": Kept<SignClosing, "signed_by" | "reason_ids" | "count" | "digest"> &
    Partial<Pick<SignClosing, "withdrawn">>;
  reasons: Kept<ExplainDifferences, "reason" | "of"> & Partial<Pick<ExplainDifferences, "said_by">>;
  incidents: IncidentValue;
  "incident-ends": IncidentEnd;
  receipts: ReceiptValue;
  "consignor/signatures": Kept<SignReceipt, "signed_by" | "strokes" | "house_by" | "on_paper">;
  zones: ZoneState;
  findings: FindingValue;
  /** What the owner told of a finding that nobody saw, by the finding. */
  "finding-notes": string;
  denials: Kept<RecordDenial, "zone" | "term" | "light" | "withdrawn">;
  statements: Kept<RecordStatement, "words" | "withdrawn">;
  origins: Kept<RecordOrigin, "origin" | "note">;
  marks: MarkValue;
  listed: ListedPiece;
  measures: Size;
  tests: TestValue;
  /** Views that are not taken. */
  views: Kept<SkipView, "reason" | "note">;
  cautions: CautionValue;
  "caution-decisions": CautionDecision;
  photos: PhotoValue;
  tags: TagValue;
  moves: MoveValue;
  /** What was typed of the owner who took it back or brought it again, by the move. */
  handed: Partial<Pick<RecordMove, "at" | "given_by" | "taken_by">>;
  inside: Inside;
  whereabouts: Whereabouts;
  "heard-late": HeardLate;
  "late-ends": Kept<SettleLateAct, "words">;
  sentences: SentenceVersion;
  "sentence-order": string[];
  /** Why a value was settled on, by the disagreement. */
  "settlement-notes": string;
}

/**
 * What was done to a stopped thing, or to one that an authority had `taken_away`, by hands that had not heard of it: to
 * what, and what.
 */
export type HeardLate = { kind: string; of?: string; taken_away?: boolean } & Partial<
  Pick<RecordMove, "to_place"> &
    Pick<PutInside, "container_id"> &
    Pick<RemoveTag, "tag" | "why"> &
    Pick<SealContainer, "seal"> & { state: SealContainer["state"] | CheckIn["state"] }
>;

/** As it was unpacked; `pieces` and `of` are there if they were counted. */
export type CheckValue = Kept<CheckIn, "state" | "words" | "second_by"> &
  Partial<Pick<CheckIn, "pieces" | "of">>;

/** What an item is, in words or as one of a list; each set by itself. */
type ItemLists = "maker_evidence" | "dates_evidence";
type ItemCertainties = { maker_certainty: MakerCertainty; dates_certainty: DateCertainty };
type ItemWords = {
  [Field in Exclude<SetItem["field"], keyof ItemCertainties>]: Field extends ItemLists ? string[] : string;
} & ItemCertainties;

type VisitNumbers = "bags" | "item_count";
type VisitWords = { [Field in SetVisit["field"]]: Field extends VisitNumbers ? number : string };
/** What of a day was corrected; what it was set up with is in the record's head. */
type DayWords = { [Field in CorrectDay["field"]]: string };
type ConsignorWords = { [Field in SetConsignor["field"] as `consignor/${Field}`]: string };

/** Fields of which a record has one. */
export interface Singles extends ItemWords, VisitWords, ConsignorWords, DayWords {
  /** What an owner is called where the name is not read. */
  called: string;
  /** Who let a visit be opened although its day was closed. */
  allowed_by: string;
  /** Of a day that was set up twice and is not gone on with: which is. */
  let_go: string;
  /** Who let another stage be said of it after that. */
  stage_allowed_by: string;
  /**
   * `second_device` stands there if a code was read off it; `digest` where the closing names its differences by the
   * reasons that were said of them, else they stand in `named`, with `reasons` beside them if any was given.
   */
  closed: Kept<CloseDay, "closed_by" | "second_by" | "named"> &
    Partial<
      Pick<CloseDay, "second_device" | "reasons" | "reason_ids" | "count" | "digest" | "first_digest">
    > &
    Partial<Pick<CloseDay, "first_signing" | "heard">>;
  dates: DateValue;
  grade: GradeValue;
  pieces: CountPieces["pieces"];
  /** How many of them the counter knew to be back with their owner. */
  "pieces-back": number;
  seal: Kept<SealContainer, "seal" | "state" | "second_by"> &
    Pick<SealContainer, "numbers" | "sealed_at" | "put_on" | "read">;
  "check-in": CheckValue;
  merged: Kept<MergeItem, "into_id" | "why">;
  entry: Kept<SetEntry, "state"> & Partial<Pick<SetEntry, "reason">>;
  inside: Inside;
  whereabouts: Whereabouts;
}

/** The fields that hold a line of words. */
export type WordsField = {
  [Name in keyof Singles]: Singles[Name] extends string ? Name : never;
}[keyof Singles];

export type Family = keyof Families;
export type FieldName = keyof Singles | `${Family}/${string}`;
/** Every family that the office knows has its type above; of one that has none the compiler says which. */
type Never<None extends never> = None;
export type EveryFamilyIsTyped = Never<Exclude<FamilyKey, keyof Singles | `${Family}/` | "consignor/">>;

/** The value under a name. */
export type ValueAt<Name extends FieldName> = Name extends keyof Singles
  ? Singles[Name]
  : Name extends `consignor/signatures/${string}`
    ? Families["consignor/signatures"]
    : Name extends `${infer Head}/${string}`
      ? Head extends Family
        ? Families[Head]
        : never
      : never;
