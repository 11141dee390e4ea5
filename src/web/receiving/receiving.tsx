import { Route, Switch } from 'wouter';
import { DeliveryPage } from './delivery-page.js';
import { LogDelivery } from './log-delivery.js';

/** The dock: log what arrives, look at what arrived. */
export default function Receiving() {
  return (
    <Switch>
      <Route path="/receiving/:delivery">{({ delivery }) => <DeliveryPage delivery={decodeURIComponent(delivery)} />}</Route>
      <Route>
        <LogDelivery />
      </Route>
    </Switch>
  );
}
