import { Redirect, Route, Switch } from 'wouter';
import { codeOfAddress } from '../design/code-of-address.js';
import { BOOKS } from './books.js';
import { Imports } from './imports.js';
import { Keys } from './keys.js';
import { Me } from './me.js';
import { NewPerson } from './new-person.js';
import { Overview } from './overview.js';
import { People } from './people.js';
import { PersonPage } from './person-page.js';
import './set-up.css';

/** What the plant knows before anything happens: its records by revision, its people, its keys, and what it brought over. */
export default function SetUp() {
  return (
    <Switch>
      <Route path="/set-up" component={Overview} />
      {BOOKS.map(({ words: { place }, Edit }) => (
        <Route key={`new ${place}`} path={`/set-up/new/${place}`}>
          <Edit code={null} />
        </Route>
      ))}
      {BOOKS.map(({ words: { place }, List }) => (
        <Route key={place} path={`/set-up/${place}`} component={List} />
      ))}
      {BOOKS.map(({ words: { place }, Edit }) => (
        <Route key={`revise ${place}`} path={`/set-up/${place}/:code/revise`}>
          {({ code }) => <Edit code={codeOfAddress(code)} />}
        </Route>
      ))}
      {BOOKS.map(({ words: { place }, Page }) => (
        <Route key={`one ${place}`} path={`/set-up/${place}/:code`}>
          {({ code }) => <Page code={codeOfAddress(code)} />}
        </Route>
      ))}
      <Route path="/set-up/new/people" component={NewPerson} />
      <Route path="/set-up/people" component={People} />
      <Route path="/set-up/people/:code">{({ code }) => <PersonPage code={codeOfAddress(code)} />}</Route>
      <Route path="/set-up/keys" component={Keys} />
      <Route path="/set-up/imports" component={Imports} />
      <Route path="/set-up/me" component={Me} />
      <Route path="/set-up/instruments">
        <Redirect href="/inspection/instruments" replace />
      </Route>
      <Route path="/set-up/instruments/:code">
        {({ code }) => <Redirect href={`/inspection/instruments/${encodeURIComponent(codeOfAddress(code))}`} replace />}
      </Route>
      <Route>
        <Redirect href="/set-up" replace />
      </Route>
    </Switch>
  );
}
