/**
 * What many screens are made of comes with the app itself and with the frame that each screen has: the bundler makes one
 * file of what the same screens share, and each set of screens that shared something else would be one more small file,
 * asked for and compressed singly (44 files and 113 KB came to 29 and 107).
 */
import "../job/check.ts";
import "../job/closing_code.ts";
import "../job/custody.ts";
import "../job/edge.ts";
import "../job/kinds_read.ts";
import "../job/operation_words.ts";
import "../job/progress.ts";
import "../job/receipt.ts";
import "../job/tag.ts";
import "../job/tickets.ts";
import "../job/words.ts";
import "../local/loads_of_day.ts";
import "../sync/sync.ts";
import "./below.tsx";
import "./caution_card.tsx";
import "./choices.tsx";
import "./copies.tsx";
import "./copies_bar.tsx";
import "./controls.tsx";
import "./edge.tsx";
import "./gaps.ts";
import "./incidents.tsx";
import "./kept_labels.tsx";
import "./mark.tsx";
import "./moments.ts";
import "./next_step.tsx";
import "./own_label.tsx";
import "./owner_side.tsx";
import "./pictures.tsx";
import "./pictures_ahead.tsx";
import "./print.ts";
import "./record_photos.tsx";
import "./tag.tsx";
import "./tag_entry.tsx";
import "./this_device.ts";
import "./thumb.tsx";
import "./tie_on.tsx";
import "./use_held.ts";
