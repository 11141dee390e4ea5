import { writtenCount } from '../../../shared/written.js';
import { Dialog } from '../design/dialog.js';

/** What was scanned and typed is not thrown away by one touch of a glove. */
export function ClearDialog({ lines, onClear, onClose }: { lines: number; onClear: () => void; onClose: () => void }) {
  const what = lines === 0 ? 'what stands in it' : lines === 1 ? 'its line' : `its ${writtenCount(lines)} lines`;
  return (
    <Dialog title="Clear the form?" onClose={onClose}>
      <p>This throws away {what}. Nothing of it was booked.</p>
      <div className="row">
        <button type="button" className="danger" onClick={onClear}>
          Throw it away
        </button>
        <button type="button" onClick={onClose}>
          Keep it
        </button>
      </div>
    </Dialog>
  );
}
