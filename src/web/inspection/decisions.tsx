import { type ReactNode, useState } from 'react';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { TextAreaField } from '../design/fields.js';
import { Caution, Section } from '../design/page.js';
import type { View } from '../wire/client.js';

type Inspection = View<'InspectionView'>;
type Open = 'urgency' | 'skip' | 'call-off' | null;

/** What people decide about an open inspection besides its verdict. */
export function Decisions({ of }: { of: Inspection }) {
  const [open, setOpen] = useState<Open>(null);
  const quality = useMay('quality');
  const mayPress = useMay('clerk', 'operator', 'inspector', 'quality', 'dispatcher', 'recall-lead');
  if (of.state !== 'waiting' && of.state !== 'begun') return null;
  if (!quality && !mayPress) return null;
  const close = (): void => setOpen(null);
  return (
    <Section title="Other decisions">
      <div className="row no-print">
        {mayPress ? (
          <button type="button" onClick={() => setOpen('urgency')}>
            Put it before older ones
          </button>
        ) : null}
        {quality ? (
          <>
            <button type="button" onClick={() => setOpen('call-off')}>
              Call it off
            </button>
            <button type="button" className="danger" onClick={() => setOpen('skip')}>
              Skip it and use the lot
            </button>
          </>
        ) : null}
      </div>
      {open === 'urgency' ? <Urgency of={of} onClose={close} /> : null}
      {open === 'call-off' ? <CallOff of={of} onClose={close} /> : null}
      {open === 'skip' ? <Skip of={of} onClose={close} /> : null}
    </Section>
  );
}

interface Decision {
  readonly of: Inspection;
  readonly onClose: () => void;
}

const WithReason = ({ label }: { label: string }): ReactNode => <TextAreaField name="/reason" label={label} required rows={2} />;

function Urgency({ of: { inspection }, onClose }: Decision) {
  return (
    <Dialog title={`Put ${inspection} before older ones`} onClose={onClose}>
      <p>Everybody sees the reason in the queue.</p>
      <CommandForm
        path="/api/inspections/{inspection}/urgency"
        address={{ inspection }}
        body={(values) => ({ reason: values.text('/reason') })}
        submit="Put it first"
        keepAs={() => `Urgency of ${inspection}`}
        onDone={onClose}
        onKept={onClose}
        onCancel={onClose}
      >
        <WithReason label="What waits for it" />
      </CommandForm>
    </Dialog>
  );
}

function CallOff({ of: { inspection, lot }, onClose }: Decision) {
  return (
    <Dialog title={`Call ${inspection} off`} onClose={onClose}>
      <p>
        Only what need not be inspected is called off: all of {lot} is gone for good, or the inspection was asked for and has not begun.
        What the plan calls for and is there is inspected, or skipped.
      </p>
      <CommandForm
        path="/api/inspections/{inspection}/calling-off"
        address={{ inspection }}
        body={(values) => ({ reason: values.text('/reason') })}
        submit={`Call ${inspection} off`}
        danger
        onDone={onClose}
        onCancel={onClose}
      >
        <WithReason label="Why it need not be inspected" />
      </CommandForm>
    </Dialog>
  );
}

function Skip({ of: { inspection, lot, pieces }, onClose }: Decision) {
  const what = pieces === null ? `lot ${lot}` : `pieces ${pieces} of lot ${lot}`;
  return (
    <Dialog title={`Skip ${inspection}`} onClose={onClose}>
      <Caution>
        <p>
          Nobody will have looked at {what}. It goes on under an urgent release: it and everything made from it stay marked until that is
          closed. A hold still stops it, and whoever made or booked it cannot sign this alone.
        </p>
      </Caution>
      <CommandForm
        path="/api/inspections/{inspection}/skip"
        address={{ inspection }}
        body={() => ({})}
        signs={`that ${what} is used before it is inspected`}
        submit={`Skip ${inspection} and open an urgent release`}
        danger
        onDone={onClose}
        onCancel={onClose}
      />
    </Dialog>
  );
}
