import { Route, Switch } from 'wouter';
import { codeOfAddress } from '../design/code-of-address.js';
import { LogReturn } from './log-return.js';
import { Recipients } from './recipients.js';
import { ReturnPage } from './return-page.js';
import { Ship } from './ship.js';
import { ShipmentPage } from './shipment-page.js';
import { Shipments } from './shipments.js';

/** What leaves the plant, to whom, and what comes back. */
export default function Dispatch() {
  return (
    <Switch>
      <Route path="/dispatch" component={Ship} />
      <Route path="/dispatch/shipments" component={Shipments} />
      <Route path="/dispatch/recipients" component={Recipients} />
      <Route path="/dispatch/returns" component={LogReturn} />
      <Route path="/dispatch/returns/:returned">{({ returned }) => <ReturnPage returned={codeOfAddress(returned)} />}</Route>
      <Route path="/dispatch/:shipment">{({ shipment }) => <ShipmentPage shipment={codeOfAddress(shipment)} />}</Route>
    </Switch>
  );
}
