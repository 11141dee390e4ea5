import { Route, Switch } from 'wouter';
import { ClosePage } from './close-page.js';
import { CorrectPage } from './correct-page.js';
import { FloorPage } from './floor-page.js';
import { LinksPage } from './links-page.js';
import './production.css';
import { codeOf } from './param.js';
import { RunPage } from './run-page.js';
import { StartPage } from './start-page.js';
import { UnitPage } from './unit-page.js';
import { VesselPage } from './vessel-page.js';

/** The floor: what runs where, one run from its start to its yield, what a vessel holds, and what a unit was built of. */
export default function Production() {
  return (
    <Switch>
      <Route path="/production/start">
        <StartPage />
      </Route>
      <Route path="/production/runs/:run/close">{({ run }) => <ClosePage code={codeOf(run)} />}</Route>
      <Route path="/production/runs/:run/correct">{({ run }) => <CorrectPage code={codeOf(run)} />}</Route>
      <Route path="/production/runs/:run/links">{({ run }) => <LinksPage code={codeOf(run)} />}</Route>
      <Route path="/production/runs/:run">{({ run }) => <RunPage code={codeOf(run)} />}</Route>
      <Route path="/production/vessels/:vessel">{({ vessel }) => <VesselPage code={codeOf(vessel)} />}</Route>
      <Route path="/production/units/:item/:serial">{({ item, serial }) => <UnitPage item={codeOf(item)} serial={codeOf(serial)} />}</Route>
      <Route>
        <FloorPage />
      </Route>
    </Switch>
  );
}
