import { Stamp } from '../design/stamp.js';

/** A demonstration looks like one on every page, on screen and on paper. */
export function DemoBand() {
  return (
    <aside className="demo-band" aria-label="Demonstration">
      <p>
        <Stamp word="Demo" small /> An invented plant: nothing here is real. Its clock goes on from the end of its record.
      </p>
    </aside>
  );
}
