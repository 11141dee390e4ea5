import { Section } from '../design/page.js';
import { isStamped, type Lot } from './lot.js';

/** What can be printed of the lot. */
export function LotPapers({ lot }: { lot: Lot }) {
  const address = `/api/lots/${encodeURIComponent(lot.lot)}`;
  return (
    <Section title="Papers" note="PDF, to print or send">
      <div className="row">
        {isStamped(lot, 'RELEASED') ? (
          <a className="button" href={`${address}/certificate.pdf`} target="_blank" rel="noreferrer">
            Certificate of analysis
          </a>
        ) : (
          <span className="quiet">There is a certificate of analysis once the lot is released.</span>
        )}
        <a className="button" href={`${address}/labels.pdf`} target="_blank" rel="noreferrer">
          Labels
        </a>
      </div>
    </Section>
  );
}
