import { Route, Switch } from 'wouter';
import { codeOfAddress } from '../design/code-of-address.js';
import { FindPage } from './find-page.js';
import { HoldPage } from './hold-page.js';
import { HoldsPage } from './holds-page.js';
import { LotPage } from './lot-page.js';
import { StockPage } from './stock-page.js';
import { UrgentReleasesPage } from './urgent-releases-page.js';

/** Lots: find any, see where all of it is, decide on it, carry it about. */
export default function Lots() {
  return (
    <Switch>
      <Route path="/lots" component={FindPage} />
      <Route path="/lots/stock" component={StockPage} />
      <Route path="/lots/holds" component={HoldsPage} />
      <Route path="/lots/holds/:hold">{({ hold }) => <HoldPage hold={codeOfAddress(hold)} />}</Route>
      <Route path="/lots/urgent-releases" component={UrgentReleasesPage} />
      <Route path="/lots/:lot">{({ lot }) => <LotPage key={lot} lot={codeOfAddress(lot)} />}</Route>
    </Switch>
  );
}
