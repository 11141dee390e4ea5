import { Route, Switch } from 'wouter';
import { SuspectsPage } from './suspects-page.js';
import { TracePage } from './trace-page.js';

/** Where material came from and where it went; and what failed pieces have in common. */
export default function Trace() {
  return (
    <Switch>
      <Route path="/trace/suspects" component={SuspectsPage} />
      <Route component={TracePage} />
    </Switch>
  );
}
