import { Route, Switch } from 'wouter';
import { codeOfAddress } from '../design/code-of-address.js';
import { DeliveryPage } from './delivery-page.js';
import { LogDelivery } from './log-delivery.js';

/** The dock: log what arrives, look at what arrived. */
export default function Receiving() {
  return (
    <Switch>
      <Route path="/receiving/:delivery">{({ delivery }) => <DeliveryPage delivery={codeOfAddress(delivery)} />}</Route>
      <Route>
        <LogDelivery />
      </Route>
    </Switch>
  );
}
