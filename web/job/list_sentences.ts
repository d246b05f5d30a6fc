/** Whoever loads what makes sentences of a record has the values of its fields told in sentences, too. */
import { deniedInWords } from "./denied_words.ts";
import { tellInSentences } from "./list_words.ts";
import { trialInWords } from "./trials.ts";
import { findingInWords } from "./wording.ts";

tellInSentences({ finding: findingInWords, denial: deniedInWords, trial: trialInWords });
