import { Section } from '../design/page.js';
import { isStamped, type Lot } from './lot.js';

/** What can be printed of the lot. */
export function LotPapers({ lot }: { lot: Lot }) {
  const address = `/api/lots/${encodeURIComponent(lot.lot)}`;
  return (
    <Section title="Papers" note="PDF, to print or send" screenOnly>
      <div className="row">
        {isStamped(lot, 'RELEASED') && lot.holds.length === 0 ? (
          <a className="button" href={`${address}/certificate.pdf`} target="_blank" rel="noreferrer">
            Certificate of analysis
          </a>
        ) : (
          <span className="quiet">
            A certificate of analysis is made for a lot that is released and not held, itself or by what it was made from.
          </span>
        )}
        <a className="button" href={`${address}/labels.pdf`} target="_blank" rel="noreferrer">
          Labels
        </a>
      </div>
    </Section>
  );
}
