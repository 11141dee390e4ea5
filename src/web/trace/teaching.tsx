import { Link } from 'wouter';
import { Empty } from '../design/page.js';

/** What goes into the box, for those who have nothing in hand. */
export function Teaching() {
  return (
    <Empty>
      <p>
        Scan a label, or type or paste any code into the box: a lot of yours or of a supplier, a serial number, a shipment, a delivery, a
        run, a vessel. <strong>Forward</strong> answers what it went into, who has it and what is still here; <strong>backward</strong>{' '}
        answers what it was made of.
      </p>
      <p>
        To see how it works, trace one of the <Link href="/lots">lots</Link>. If pieces fail and nobody knows why, ask for{' '}
        <Link href="/trace/suspects">what they have in common</Link>.
      </p>
    </Empty>
  );
}
