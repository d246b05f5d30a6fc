/** The shapes that the app's modules pass to each other. The office's models are their source. */
import type { Conventions } from "./dates.ts";
import type { Envelope, Kind, OpenContainer, OpenDay, Operation, SettleDisagreement } from "./operations.ts";
import type { Still } from "./stopped.ts";

export type { Operation };

/** Each type of a union without these members, so that it stays a union. */
export type OmitEach<Union, Key extends PropertyKey> = Union extends unknown ? Omit<Union, Key> : never;
export type OperationOf<K extends Kind> = Extract<Operation, { kind: K }>;
/** What a screen says of an operation; the rest is added when it is kept. */
export type BodyOf<K extends Kind> = OmitEach<OperationOf<K>, keyof Envelope | "kind" | "seen" | "salt">;
/** A value, and who set it when. */
export type FieldValue<Value = unknown> = {
  value: Value;
  operation_id: string;
  made_by: string;
  made_at: string;
  device_id: string;
  /** Its place in that device's own order; not there in what an older version of this app stored. */
  device_seq?: number;
  /** The last operation of each device that said the same since: whoever made it was looking at this value. */
  agreed?: Record<string, string>;
};
/** Two people set a field without having seen each other's value; both are kept until a person settles it. */
export type Disagreement = {
  disagreement_id: string;
  field: string;
  kept: FieldValue;
  other: FieldValue;
  settled: (Pick<SettleDisagreement, "choose" | "made_by" | "made_at"> & { operation_id: string }) | null;
};
type AnyRecord = {
  record_id: string;
  day_id: string;
  opened_at: string;
  opened_by: string;
  office_seq?: number;
  fields: Record<string, FieldValue>;
  disagreements: Disagreement[];
  /** Of an item: what nobody has settled of fields that not every device reads, by their families alone. */
  contested_beside?: readonly { disagreement_id: string; family: string }[];
  /** The other records of the same thing, where it was recorded more than once. This device puts them here. */
  doubles?: readonly RecordCopy[];
};
export type DayRecord = AnyRecord & { kind: "day" } & Pick<
    OpenDay,
    "house" | "place" | "held_on" | "currency" | "tables"
  >;
export type VisitRecord = AnyRecord & { kind: "visit" };
export type ItemRecord = AnyRecord & { kind: "item"; visit_id: string };
export type ContainerRecord = AnyRecord & { kind: "container" } & Pick<OpenContainer, "number" | "kind_of">;
/** A record as the office or this device has it. */
export type RecordCopy = DayRecord | VisitRecord | ItemRecord | ContainerRecord;
/** What a tag can be tied to, and what can be carried. */
export type ThingRecord = ItemRecord | ContainerRecord;
export type RecordKind = RecordCopy["kind"];
export type RecordOf<Kind extends RecordKind> = Extract<RecordCopy, { kind: Kind }>;
export type Problem = { code: string; title: string; detail: string; hint: string };
/** Where the office stands as this device sees it; it says so with every answer. */
export type OfficeStanding = {
  /** Which office this is, for good. */
  office_id: string;
  /** Which file of the office this is: one that was restored or begun anew has another. */
  epoch: string;
  /** The newest operation, and the log's value there. */
  office_seq: number;
  chain: string;
  /** The log's value at the operation that this device named; null if it named none, or there is none. */
  known_chain: string | null;
  /** The office's proof that this device was told of the newest operation. */
  proof: string;
  /** Every operation of this device up to that one has been answered. */
  device_seq: number;
  /** Every operation up to that one stands in every second place in reach; null while none is set up. */
  safe_seq: number | null;
  /** The office lacks something, and waits for the devices that may have it. */
  hearing: boolean;
  /** How many times the words of a record were erased. */
  erased: number;
};
export type Answer = {
  operation_id: string;
  outcome: "kept" | "refused" | "waiting";
  office_seq: number | null;
  disagreement: boolean;
  /** The members that the office applied otherwise than they were sent, since it knows better. */
  ruled?: Readonly<Record<string, unknown>>;
  /** Why it was refused or has to wait; of one that is kept, what of it was not. */
  problem: Problem | null;
};
export type Zone = {
  zone: string;
  words: string;
  members: string[] | "counted";
  holds: string[];
  /** Plans of before say nothing of it. */
  inside?: string[];
  /** The same. */
  beside?: string[];
  /** Whoever found a fault on one of these found no other on this zone. */
  adjoins?: string[];
  /** What goes through it is in those zones, too. */
  through?: RulesOut | null;
  weight: string;
  photo: "always" | "finding";
  optional: boolean;
  /** The same. */
  inherent?: boolean;
  /** The same. */
  wording?: string[];
  /** Plans of before say nothing of these. */
  missed_with?: string[];
  lights?: string[];
  tests?: string[];
  alone?: boolean;
  felt?: boolean;
  lost?: string[];
  under?: string[];
  not_named?: string[];
  usual: string[];
};
/** What is said of a test where none of these zones is there. */
/** What is asked for in other words of a thing that never had any of the zones; a test is printed so as well. */
export type WhereNone = { none: string[]; words?: string; how?: string | null; bases?: string[] };
type TestWords = { none: string[]; how?: string | null } & Partial<
  Pick<FunctionTest, "said" | "name" | "undone" | "failed" | "in_part" | "tried">
>;
export type FunctionTest = {
  test: string;
  how: string;
  said: string | null;
  name: string | null;
  undone: string | null;
  undone_of_several?: string | null;
  failed: string | null;
  in_part: string | null;
  tried: string | null;
  rules_out: RulesOut | null;
  looks: string | null;
  /** Plans of before say nothing of it. */
  shows?: string[];
  /** The same. */
  of?: string[];
  not_named?: string[];
  /** The same. */
  of_one?: boolean;
  so_far?: boolean;
  told_by?: string[];
  seeks?: string[];
  unread?: string | null;
  said_beside?: { zone: string; words: string; named?: string[] } | null;
  where_none?: TestWords[];
  /** Of one in the words for a thing that has not all of it: as the plan has it. */
  in_general?: FunctionTest;
  measures: string[];
  never_when: string;
  /** Plans of before say nothing of it. */
  never_beside?: NeverBeside[];
  lights: string[];
  stopped_by: string[];
};
/** What stands on a record and forbids a test: one of the terms, or what is known of the zones. */
export type NeverBeside = {
  zones: string[];
  terms: string[];
  when: "found" | "there" | "none" | "unseen";
};
export type Negative = {
  negative: string;
  words: string;
  needs: string;
  zones: string[];
  terms: string[];
  lights: string[];
  tests: string[];
  stopped_by: string[];
  /** Plans of before say nothing of these. */
  rules_out?: RulesOut | null;
  shows?: string[];
  of_marks?: boolean;
};
export type Question = {
  question: string;
  zones: string[];
  terms: string[];
  anywhere: string[];
  aside: string[];
  tests: string[];
  measures: string[];
  facts: string[];
  statements: string[];
  /** Plans of before say nothing of it. */
  hazards?: string[];
  unless_origin?: string | null;
  unless_origin_of_several?: string | null;
  of_rest?: { zones: string[]; one: string; many: string } | null;
  leaves_open?: LeavesOpen[];
  none?: string | null;
  judged?: string[];
  put_to?: string[];
  not_named?: string[];
  put_for?: string[];
  marks_not?: string[];
  told_tests?: string[];
  if_there?: { zone: string; words: string; open?: string; named?: string[]; unless_basis?: string[] } | null;
  present?: { zone: string; words: string; at_most?: number | null }[];
  in_name?: string[];
  in_one?: { named: string[]; unless_named?: string[] } | null;
  faults_only?: string[];
  paper_only?: string[];
  by_trial?: string[];
  facts_first?: boolean;
};
export type LeavesOpen = {
  words: string;
  of: string[];
  terms: string[];
  statements: string[];
  lights: string[];
  /** Plans of before say nothing of these. */
  tests?: string[];
  made?: string[];
  facts?: string[];
  if_none?: string[];
  if_unseen?: string[];
  sealed?: { zones: string[]; words: string } | null;
  unseen?: { zones: string[]; words: string } | null;
  shown?: { zones: string[]; words: string; open?: string | null } | null;
  said_by?: string[];
  untried?: boolean;
  works?: boolean;
  named?: string[];
  at_each?: { found: string[]; looked_for: string[] } | null;
  alone?: string[];
  unless_named?: string[];
  lacking?: string[];
  mixed?: string[][];
  beside?: string[];
  if_found?: string[];
  if_measured?: string[];
  found_on?: string[];
  unless_lost?: string[];
};
export type Measure = {
  measure: string;
  unit: "mm" | "g" | "n";
  /** Plans of before say nothing of it. */
  least?: number | null;
  most: number;
  words: string;
  print: string | null;
  bases: string[];
  /** Plans of before say nothing of these. */
  open?: { zones: string[]; words: string; named?: string[] } | null;
  of?: string[];
  not_named?: string[];
  /** The same. */
  short_of?: string | null;
  within?: string | null;
  rules_out?: RulesOut | null;
  troy: boolean;
  /** Plans of before say nothing of these three. */
  one?: string | null;
  read_off?: boolean;
  called?: { of: string[]; print: string }[];
  /** The same. */
  where_none?: WhereNone[];
};
export type RulesOut = { zones: string[]; terms: string[] };
export type Shape = {
  zone: string | null;
  shape: "path" | "circle" | "ellipse" | "rect" | "line" | "polyline" | "polygon";
  attributes: Record<string, string>;
};
export type Outline = {
  outline: string;
  words: string;
  width: number;
  height: number;
  shapes: Shape[];
  /** One of these is in the name of a thing that it is for; none if it is for all, as in books of before. */
  of?: string[];
  /** The view that it is shown in place of, or several, with commas between. */
  instead?: string | null;
};
export type View = {
  view: string;
  words: string;
  of?: string[];
  named?: string[];
  not_named?: string[];
  /** Plans of before say nothing of it. */
  where_none?: WhereNone[];
};
export type Plan = {
  class_id: string;
  version: string;
  name: string;
  /** Words that things of the class are often called by. */
  called: string[];
  frame: "proper" | "viewer" | "own";
  frame_note: string;
  count_start: string;
  refer_only: boolean;
  scale: string[];
  /** What is graded on the scale; plans of before do not say it. */
  graded_as?: string;
  nouns?: Record<string, string>;
  says_on?: Record<string, Record<string, string>>;
  /** What one of the class is called whose name has no plain noun. */
  thing?: string | null;
  zones: Zone[];
  tests: FunctionTest[];
  views: View[];
  /** Plans of before say nothing of it: the zones of places where marks are looked for. */
  marks_of?: Record<string, string[]>;
  marks_hint?: string;
  /** What is to be read at these places is always there, as on letters. */
  marks_always?: boolean;
  marks: string[];
  /** What words on a thing are called in print; plans of before do not say it. */
  mark_noun?: string;
  /** Plans of before say nothing of these: who makes such things, and where what is printed is an imprint. */
  maker_noun?: string;
  imprint_at?: string[];
  /** Where the name of whoever was given it stands. */
  naming_at?: string[];
  measures: Measure[];
  /** In which unit people mostly write the sizes of such things; plans of before do not say it. */
  sizes_in?: "mm" | "cm";
  questions: Question[];
  /** Plans of before say nothing of these two. */
  leaves_open?: LeavesOpen[];
  of_many?: { named: string[]; many: string; one?: string[] }[];
  /** Things of the class that are examined otherwise than the rest of it. */
  kinds?: {
    kind: string;
    named: string[];
    not_named: string[];
    only: string[];
    without: string[];
    /** Left out as zones, where a view of the same id stays; plans of before have none of these three. */
    without_zones?: string[];
    sizes: Record<string, Pick<Measure, "words" | "bases" | "where_none">>;
    /** What its zones are walked by. */
    words?: Record<string, string>;
    /** What bidders ask of it in place of a question of the class, by how that reads. */
    asked?: Record<string, Question>;
    instead: Partial<
      Pick<
        Plan,
        "questions" | "marks" | "marks_hint" | "marks_always" | "maker_noun" | "frame_note" | "count_start"
      >
    >;
  }[];
  /** Of which of them this is the plan; only once it is one thing's. */
  kind?: string;
  negatives: Negative[];
  hazards: string[];
  instructions: { do: string[]; do_not: string[] };
};
export type Sense = "sight" | "touch" | "hearing" | "smell" | "trial";
export type Term = {
  term: string;
  family: string;
  says: string | null;
  says_on: Record<string, string>;
  verbs: [string, string] | null;
  /** Books of before say nothing of it. */
  part?: [string, string] | null;
  held?: string | null;
  noun: string | null;
  article: "a" | "an";
  plural: string | null;
  prep: string;
  sought: string | null;
  /** Books of before say nothing of these three. */
  sign?: string | null;
  sign_on?: Record<string, string>;
  sign_prep?: string;
  absent: string | null;
  /** Books of before say nothing of these five. */
  absent_on?: Record<string, string>;
  unproved?: { test: string; words: string } | null;
  denied_of?: Record<string, [string, string]>;
  /** Vocabularies of before say nothing of these. */
  thing_on?: string[];
  noun_on?: Record<string, [string, Term["prep"]]>;
  part_named?: boolean;
  means?: string | null;
  says_where?: string[];
  measured: string | null;
  sense: Sense | null;
  makes: string | null;
  slight: boolean;
  whole: boolean;
  spread: boolean;
  noun_first: boolean;
  note_names: boolean;
  times: boolean;
  /** Books of before say nothing of it. */
  unsized?: boolean;
  origins: string[];
  covers: string[];
  said_as: string[];
  definition: string;
  severity: number;
  activity: string;
  extents: string[];
  lookalikes: string[];
};
export type Caution = {
  hazard: string;
  name: string;
  subject: string;
  sign: string;
  synonyms: string[];
  level: "red" | "amber" | "note";
  caution: string;
  first_minute: string[];
  may: string;
  may_not: string;
  who: string;
  extent: string;
  sources: string[];
  checked_on: string | null;
  unchecked: string | null;
  still_allowed: Still[] | null;
  goes_home: boolean;
  holder?: string | null;
  /** Packs of before say nothing of these two. */
  named?: string[];
  not_named?: string[];
  unsaid?: boolean;
  forbids: { classes: string[]; tests: string[]; lights: string[] }[];
  basis: string;
};
export type CautionPack = {
  country: string;
  notice: string;
  emergency: string;
  card: string[];
  urgent: string[];
  unknown: string;
  cautions: Caution[];
};
/** A light or tool: "no chip seen `how`", "examined with `tool`"; `named` says when it stands beside a finding. */
export type Light = {
  light: string;
  words: string;
  /** Lists of before say nothing of it: another light for some zones, as when one looks through a lens. */
  through?: { zones: string[]; how: string; tool: string } | null;
  sense: Sense;
  how: string | null;
  tool: string | null;
  /** The same: what the tool was called in print. */
  once?: string[];
  named: "always" | "own" | "never";
};
export type ZoneName = {
  zone: string;
  one: string;
  many: string | null;
  plural: boolean;
  counted: [string, string] | null;
  lacking: string | null;
  together: boolean;
  tally: boolean;
  /** Books of before say nothing of these. */
  part?: [string, string] | null;
  within?: boolean;
  upon?: boolean;
  share?: boolean;
  called?: ZoneCalled[];
  /** The same: what all zones of a group are called together. */
  group?: { group: string; one: string; many: string | null } | null;
  also?: string[];
  both?: boolean;
  if_any?: boolean;
  unlike?: boolean;
  beside?: { zones: string[]; one: string; many: string } | null;
  /** Of several things that have one each: set for a record, in no house's list. */
  of_each?: boolean;
  /** The same, of what each of them has several of. */
  of_some?: boolean;
};
/** What a zone is on a thing whose description has one of the words. */
export type ZoneCalled = {
  of: string[];
  one: string;
  many: string | null;
  counted?: [string, string] | null;
  each?: boolean;
  single?: boolean;
  listed?: boolean;
};
export type MemberName = {
  member: string;
  /** The zone that it is a member of; of any without one. */
  of?: string | null;
  before: string | null;
  after: string | null;
  alone: string | null;
};
/** What typed names need to be printed with; each list is explained where the office keeps it. */
export type English = {
  takes_an: string[];
  takes_a: string[];
  letters_an: string;
  one_thing: string[];
  one_thing_endings: string[];
  several: string[];
  keep_capital: string[];
  stops_a_name: string[];
  hedges: string[];
  /** Books of before have none of these. */
  keep_capital_endings?: string[];
  /** Words that no name is, but that a line may begin with: those keep no capital. */
  common?: string[];
  titles?: string[];
  bare?: string[];
  measures_out?: string[];
  units?: string[];
  date_words?: string[];
  nobody?: string[];
  borne?: string[];
  by_eye?: string[];
  things?: string[];
  /** The same. */
  parts?: string[];
};
/** What typed places of marks are printed with: "on the base", "inside", "lower right". */
export type MarkPlaces = { begin: string[]; corners: string[]; within: string[]; determiners: string[] };
export type Print = {
  zones: ZoneName[];
  members: MemberName[];
  sides: { side: string; words: string }[];
  sizes: { inches: boolean; troy_ounces: boolean };
  english: English;
  /** Books of before have none. */
  mark_places?: MarkPlaces;
};
/** A class on its key; one without a drawing is drawn as a parcel. */
/** Books of before say of no class what else belongs to it. */
/** Books of before say nothing of what things of the class are `named`. */
export type ClassKey = { words: string; also?: string | null; named?: string[]; drawing: Drawing | null };
/** Two paths on a square of 48 units: the body is washed, the lines are drawn on it. */
export type Drawing = { body: string; lines: string };
export type PlanBook = {
  plans: Record<string, Plan>;
  vocabulary: { terms: Term[] };
  outlines: Record<string, Outline[]>;
  /** How classes stand on their keys; one that is not here stands under its plan's name. */
  classes: Record<string, ClassKey>;
  /** Views that are drawn alike whatever the class, by words that theirs say; the first that fits holds. */
  views: { said: string[]; drawing: Drawing }[];
  cautions: CautionPack;
  words: {
    reasons: { reason: string; words: string; print: string | null }[];
    severities: { severity: number; words: string; meaning: string }[];
    activities: { activity: string; words: string; meaning: string }[];
    certainties: { certainty: string; words: string; meaning: string }[];
    originalities: {
      originality: string;
      words: string;
      meaning: string;
      print: string;
      denies: string[];
      /** What a house of before has says nothing of it. */
      ended_by?: string[];
    }[];
    evidences: { evidence: string; words: string; strength: string }[];
    techniques: { technique: string; words: string }[];
    extents: { words: string; share: string; print: string | null }[];
    lights: Light[];
    caveat: string;
    dates: Conventions;
  };
  print: Print;
};
