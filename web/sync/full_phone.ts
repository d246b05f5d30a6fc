/**
 * A phone whose storage is full hears a Stop, an erasure and the end of a day all the same. It comes with the words'
 * pack, since no first visit needs it.
 */
import { computed, effect } from "@preact/signals-core";
import { StorageTrouble } from "../local/database.ts";
import { holdsLess, scopeOf } from "../local/day.ts";
import { dayOfWork } from "../local/device.ts";
import type { Erasure } from "../local/erasures.ts";
import {
  deleteDayOver,
  dropErasedHere,
  dropTakenOff,
  forgetTakenOff,
  isToldForOtherWork,
  showAgainWhenRead,
  showAsKept,
  showOtherWork,
  showStoppedBefore,
  showTakenOff,
  showTakenOffBefore,
  showUnkept,
} from "../local/full_phone.ts";
import { whyOtherOffice } from "../local/keeping.ts";
import { device, erasures, office } from "../local/memory.ts";
import { get } from "./office.ts";
import { type FeedPage, forgetShown, isOther } from "./read.ts";
import { knowing, whenFull } from "./round.ts";
import { status } from "./status.ts";
import { syncNow } from "./sync.ts";

/** What the office tells is heard, and cannot be kept; the message says what to do. */
class NewsNotKept extends StorageTrouble {
  constructor() {
    super(
      "This phone is full. What the office says now shows here, a Stop too, and is not kept: leave this page open, " +
        "and make room by deleting pictures or apps of your own. All that was saved before is still here.",
    );
  }
}

/** How far it was heard from where the disk stands; what was told is not asked for at every round. */
const heardTo = { scope: "", from: 0, to: 0 };

/**
 * Read the feed from where the disk stands in it, and leave it there: all of it is told again once there is room. An
 * office that has lost something is heard when that can be put down. Throws what is wrong with the phone.
 */
async function hearWhileFull(): Promise<void> {
  const known = device.peek();
  if (!known || known.revoked || known.scope !== scopeOf(known)) return;
  const { table_id, person_id } = known;
  const work = new URLSearchParams({ day_id: dayOfWork(known), table_id, by: person_id });
  const isOn = heardTo.scope === known.scope && heardTo.from === known.cursor;
  let after = isOn ? heardTo.to : holdsLess() ? 0 : known.cursor;
  for (let more = true; more; ) {
    const [path, asked] = knowing(`/sync/feed?after=${after}&limit=500&${work}`);
    const page = await get<FeedPage>(path);
    if (isOther(page)) {
      await showOtherWork({ ...page.device });
      await forgetShown();
      return hearWhileFull();
    }
    const now = device.peek();
    if (!now || now.revoked || scopeOf(now) !== known.scope) return;
    if (whyOtherOffice(office.peek() ?? undefined, now.epoch, page.office, asked)) return;
    const gone = await showUnkept(known.scope, page.records);
    const over = page.day_over ? await deleteDayOver(page.office_time) : 0;
    if (gone + over) await forgetShown();
    if (!page.more) await hearErased(page.office.erased ?? 0);
    ({ cursor: after, more } = page);
    Object.assign(heardTo, { scope: known.scope, from: known.cursor, to: after });
  }
  throw new NewsNotKept();
}

async function hearErased(erased: number) {
  const known = Object.values(erasures.peek()).filter(({ at_office }) => at_office);
  if (known.reduce((sum, { times = 1 }) => sum + times, 0) === erased) return;
  await dropErasedHere((await get<{ erasures: Erasure[] }>("/sync/erasures")).erasures);
}

/** A database that cannot be read is told where all of it is. */
const saidThere = () => {};

/** From now on a full phone hears; and what an earlier page heard on one is shown. */
export function hearOnFullPhones() {
  whenFull.hear = hearWhileFull;
  whenFull.takenOff = async (isKept) => {
    if (isKept) return forgetTakenOff();
    showTakenOff();
    await forgetShown();
  };
  showAgainWhenRead();
  const heard = computed(() => status.value.lastContactAt);
  effect(() => {
    if (heard.value === null) return;
    heardTo.scope = "";
    showAsKept().catch(saidThere); // a whole round was stored
    dropTakenOff()
      .then((isAnew) => (isAnew ? syncNow() : undefined))
      .catch(saidThere);
  });
  effect(() => {
    if (device.value && isToldForOtherWork(device.value)) showAsKept().catch(saidThere);
  });
  if (status.peek().lastContactAt === null) showTakenOffBefore().catch(saidThere);
  showStoppedBefore().catch(saidThere);
}
