import { useMay } from '../app/session.js';
import { Page } from '../design/page.js';
import { CheckpointNow } from './checkpoint-now.js';
import { LedgerTabs } from './ledger-tabs.js';
import { OlderCheckpoint } from './older-checkpoint.js';
import { OlderPosition } from './older-position.js';
import { Verifications } from './verifications.js';

/** Whether the record is whole, how far it goes, and whether it is still the one it was. */
export function ProofPage() {
  const mayVerify = useMay('quality', 'auditor', 'administrator');
  return (
    <Page
      crumb="Ledger"
      title="Checks and checkpoints"
      sub="Nothing in the record can be changed without leaving a mark. Here it can be looked for, and proved to others."
    >
      <LedgerTabs />
      <CheckpointNow />
      <OlderCheckpoint />
      <OlderPosition />
      {mayVerify ? <Verifications /> : null}
    </Page>
  );
}
