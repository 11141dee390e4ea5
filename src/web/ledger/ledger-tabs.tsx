import { Tabs } from '../design/tabs.js';

/** The parts of the ledger. */
export function LedgerTabs() {
  return (
    <Tabs
      label="Ledger"
      tabs={[
        { href: '/ledger', title: 'Entries' },
        { href: '/ledger/proof', title: 'Checks and checkpoints' },
      ]}
    />
  );
}
