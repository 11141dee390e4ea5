import { Route, Switch } from 'wouter';
import { codeOfAddress } from '../design/code-of-address.js';
import { ChartsPage } from './charts-page.js';
import { FiguresPage } from './figures-page.js';
import { InspectionPage } from './inspection-page.js';
import { InstrumentPage } from './instrument-page.js';
import { InstrumentsPage } from './instruments-page.js';
import { OcPage } from './oc-page.js';
import { QueuePage } from './queue-page.js';
import { RequestPage } from './request-page.js';
import { SeverityHistoryPage } from './severity-history-page.js';
import { SeverityPage } from './severity-page.js';
import './inspection.css';

/** What to take, how many, the tally while inspecting, the verdict; how strict it is and why; what the instruments and charts say. */
export default function Inspection() {
  return (
    <Switch>
      <Route path="/inspection" component={QueuePage} />
      <Route path="/inspection/new" component={RequestPage} />
      <Route path="/inspection/severity" component={SeverityPage} />
      <Route path="/inspection/severity/:item">{({ item }) => <SeverityHistoryPage key={item} item={codeOfAddress(item)} />}</Route>
      <Route path="/inspection/oc" component={OcPage} />
      <Route path="/inspection/charts" component={ChartsPage} />
      <Route path="/inspection/figures" component={FiguresPage} />
      <Route path="/inspection/instruments" component={InstrumentsPage} />
      <Route path="/inspection/instruments/:instrument">
        {({ instrument }) => <InstrumentPage key={instrument} instrument={codeOfAddress(instrument)} />}
      </Route>
      <Route path="/inspection/:inspection">
        {({ inspection }) => <InspectionPage key={inspection} inspection={codeOfAddress(inspection)} />}
      </Route>
    </Switch>
  );
}
