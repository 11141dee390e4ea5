import { Redirect, Route, Switch } from 'wouter';
import { codeOfAddress } from '../design/code-of-address.js';
import { FiguresPage } from './figures-page.js';
import { ListPage } from './list-page.js';
import { RaisePage } from './raise-page.js';
import { ReportPage } from './report-page.js';
import { ReviewRulePage } from './review-rule-page.js';

/** What does not meet its requirement: the open reports, one report from raised to closed, and what they teach. */
export default function Nonconformance() {
  return (
    <Switch>
      <Route path="/nonconformance" component={ListPage} />
      <Route path="/nonconformance/new" component={RaisePage} />
      <Route path="/nonconformance/figures" component={FiguresPage} />
      <Route path="/nonconformance/review-rule" component={ReviewRulePage} />
      <Route path="/nonconformance/:report">{({ report }) => <ReportPage code={codeOfAddress(report)} />}</Route>
      <Route>
        <Redirect href="/nonconformance" replace />
      </Route>
    </Switch>
  );
}
