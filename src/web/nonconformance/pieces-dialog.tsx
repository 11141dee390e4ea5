import { formatSpans, type SpanSet } from '../../../shared/spans.js';
import { ribbonLotOf, ribbonOfLot } from '../../../shared/ribbon-of-lot.js';
import { Dialog } from '../design/dialog.js';
import { Ribbon } from '../pictures/ribbon.js';
import { server } from '../wire/client.js';

/** Pieces are chosen on the picture of where they came from and went. */
export function PiecesDialog({
  lot,
  spans,
  onPieces,
  onClose,
}: {
  lot: string;
  spans: SpanSet;
  onPieces: (pieces: string) => void;
  onClose: () => void;
}) {
  const { data } = server.useQuery('get', '/api/lots/{lot}', { params: { path: { lot } } });
  const ribbon = data === undefined ? null : ribbonLotOf(data);
  return (
    <Dialog title={`Pieces of ${lot}`} onClose={onClose}>
      {ribbon === null ? (
        <p className="quiet">Reading the lot …</p>
      ) : (
        <Ribbon input={ribbonOfLot(ribbon)} label={`Lot ${lot}`} selection={spans} onSelect={(next) => onPieces(formatSpans(next))} />
      )}
      <div className="row">
        <button type="button" className="primary" onClick={onClose}>
          Take these pieces
        </button>
      </div>
    </Dialog>
  );
}
