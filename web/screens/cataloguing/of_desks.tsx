/** In the place of the queue on a device of other work. */
import { Frame } from "../../parts/frame.tsx";

/** The window was left open, or its address kept, since this device was one of those that read the queue. */
export function OfDesks() {
  return (
    <Frame title="Cataloguing queue" place="#/queue">
      <p class="lead">
        Only a desk or a manager’s device opens the queue, and this one was given other work. What was written
        here is kept, and goes by itself.
      </p>
      <p>
        <a class="button" href="#/today">
          Today
        </a>
      </p>
    </Frame>
  );
}
