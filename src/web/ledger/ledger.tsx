import { Route, Switch } from 'wouter';
import { EntryPage } from './entry-page.js';
import { LedgerPage } from './ledger-page.js';
import { ProofPage } from './proof-page.js';

/** The ledger itself: every entry, what it says, and whether the record is whole. */
export default function Ledger() {
  return (
    <Switch>
      <Route path="/ledger/proof" component={ProofPage} />
      <Route path="/ledger/:seq">{({ seq }) => <EntryPage seq={seq} />}</Route>
      <Route>
        <LedgerPage />
      </Route>
    </Switch>
  );
}
