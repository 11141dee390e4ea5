import { Route, Switch } from 'wouter';
import { codeOfAddress } from '../design/code-of-address.js';
import { OpenRecall } from './open-recall.js';
import { RecallList } from './recall-list.js';
import { RecallPage } from './recall-page.js';

/** The recall room: what is called back, from whom, and how far it has come. */
export default function Recall() {
  return (
    <Switch>
      <Route path="/recall" component={RecallList} />
      <Route path="/recall/new" component={OpenRecall} />
      <Route path="/recall/:recall/:part?">
        {({ recall, part }) => <RecallPage recall={codeOfAddress(recall)} part={part ?? 'scope'} />}
      </Route>
    </Switch>
  );
}
