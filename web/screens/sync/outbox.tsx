/** What is still on this device only, and what the office refused, with what to do. */

import { refused, waiting } from "../../local/memory.ts";
import { isOnlyHere } from "../../local/outbox.ts";
import { photosOnlyHere, refusedPhotos } from "../../local/photos.ts";
import { Frame } from "../../parts/frame.tsx";
import { bytesWords, clockWords } from "../../parts/moments.ts";
import { sayNothing, sayWrong } from "../../parts/notices.tsx";
import { useDevice } from "../../parts/use.ts";
import { lackingHere, toLookAtHere } from "../../parts/with_words.ts";
import { standing, status } from "../../sync/status.ts";
import { syncNow } from "../../sync/sync.ts";
import { KeptHere, WasForgotten } from "./kept_here.tsx";
import { LeftHere } from "./left_here.tsx";
import { UnsentHere } from "./unsent_here.tsx";
import { WaitingHere } from "./waiting_here.tsx";
import { WhereItIs } from "./where_it_is.tsx";

const TITLE = "On this device";
const NO_ANSWER =
  "The office did not answer. What is here stays here, and goes by itself once it answers: see whether its computer " +
  "is on, its program runs, and this device is in its network.";
const NO_NETWORK =
  "This device has no network. What is here stays here, and goes by itself once it is in the office's network.";

/** What the office answers stands on the screen by itself; that it did not answer at all has to be said. */
async function sendNow() {
  sayNothing();
  await syncNow();
  if (!status.peek().out_of_reach) return;
  // As all that is said of an office that is not there, it goes with the screen: its cause says that it is such words.
  sayWrong(new TypeError(navigator.onLine ? NO_ANSWER : NO_NETWORK, { cause: "out of reach" }));
}

export default function Outbox() {
  const device = useDevice();
  if (!device)
    return (
      <Frame title={TITLE} place="#/outbox">
        <p>Reading …</p>
      </Frame>
    );
  const { busy, lastContactAt } = status.value;
  const LackingHere = lackingHere.value;
  const ToLookAtHere = toLookAtHere.value;
  const onlyHere = [waiting.value, photosOnlyHere(), refused.value.filter(isOnlyHere), refusedPhotos()];
  return (
    <Frame
      title={TITLE}
      place="#/outbox"
      action={
        <button type="button" class="main" disabled={busy} onClick={sendNow}>
          {busy ? "Sending …" : "Send now"}
        </button>
      }
    >
      {LackingHere && <LackingHere />}
      <OnlyHere />
      <p class="lead">
        <WhereItIs
          stands={standing()}
          onlyHere={onlyHere.some((all) => all.length)}
          toLookAt={refused.value.length > 0}
        />
      </p>
      <p class="hint">
        This is {device.name} ({device.role}).{" "}
        {lastContactAt
          ? `Last heard from the office at ${clockWords(lastContactAt)}.`
          : "The office was not heard from since the app was opened."}
      </p>
      <p>
        <a class="button quiet" href="#/check">
          Check this device
        </a>
      </p>
      <UnsentHere />
      {ToLookAtHere ? (
        <ToLookAtHere />
      ) : (
        refused.value.length > 0 && <p class="hint">Reading what the office refused …</p>
      )}
      <RefusedPhotos />
      <WaitingHere />
      <WasForgotten />
      <KeptHere />
      <LeftHere />
    </Frame>
  );
}

/** How much is nowhere else, and how much of it the office refused. */
function OnlyHere() {
  const operations = waiting.value;
  const originals = photosOnlyHere().filter((photo) => !photo.is_thumb);
  return (
    <dl class="counts">
      <div>
        <dt>Records on this device only</dt>
        <dd>
          {operations.length} <Bytes bytes={operations.length && JSON.stringify(operations).length} />
        </dd>
      </div>
      <div>
        <dt>Photos on this device only</dt>
        <dd>
          {originals.length} <Bytes bytes={originals.reduce((sum, { size }) => sum + size, 0)} />
        </dd>
      </div>
      <div>
        <dt>Refused</dt>
        <dd>{refused.value.filter(({ kept }) => !kept).length + refusedPhotos().length}</dd>
      </div>
    </dl>
  );
}

/** So many bytes, where there are any. */
function Bytes({ bytes }: { bytes: number }) {
  return bytes ? <small>({bytesWords(bytes)})</small> : null;
}

function RefusedPhotos() {
  const photos = refusedPhotos();
  if (!photos.length) return null;
  return (
    <section>
      <h2>Photos that the office could not take</h2>
      <ul class="rows">
        {photos.map((photo) => (
          <li key={photo.sha256} class="row">
            <span class="what">
              {photo.problem.detail} <small>{photo.problem.hint} The file stays on this device.</small>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
