import { Link } from 'wouter';
import type { Taken } from './scans.js';

/** Where to look for what was scanned. */
function findAddress({ scan, text }: Pick<Taken, 'scan' | 'text'>): string {
  const asked = new URLSearchParams();
  if (scan.kind === 'gs1') {
    for (const key of ['gtin', 'lot', 'serial'] as const) {
      if (scan[key] !== null) asked.set(key, scan[key]);
    }
  }
  if (asked.size === 0) asked.set('text', text.trim());
  return `/find?${asked.toString()}`;
}

/** Shows what was understood of a scan, before anything is done with it, and on a page that has no use for it offers to look it up. */
export function UnderstoodStrip({ taken, onClose }: { taken: Taken; onClose: () => void }) {
  const { scan, text, byPage } = taken;
  return (
    <div className={`strip scanned${scan.kind === 'faulty' ? ' refused' : ''}`} role="status">
      <div>
        <strong>Scanned</strong> <code>{text.replaceAll('\u001d', '␝')}</code>
        {scan.kind === 'gs1' ? <>: {scan.says.join(' · ')}</> : null}
        {scan.kind === 'gs1' && scan.cautions.length > 0 ? <div className="urgent">{scan.cautions.join(' · ')}</div> : null}
        {scan.kind === 'faulty' ? <>: {scan.reasons.map((reason) => reason.detail).join('; ')}. Nothing was done.</> : null}
      </div>
      <div className="row">
        {byPage || scan.kind === 'faulty' ? null : (
          <Link className="button" href={findAddress(taken)} onClick={onClose}>
            Find it
          </Link>
        )}
        <button type="button" onClick={onClose}>
          Close
        </button>
      </div>
    </div>
  );
}
