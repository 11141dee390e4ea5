import { useState } from 'react';
import { inWords } from '../../../shared/written.js';
import { TextField } from '../design/fields.js';
import { Form } from '../design/form.js';
import { api, type View } from '../wire/client.js';
import { type Problem, problemOf } from '../wire/problem.js';
import { DemoBand } from './demo-band.js';
import { FirstPerson } from './first-person.js';
import './shell.css';

interface Door {
  plant: string;
  demo: View<'DemoView'> | null;
  hasPeople: boolean;
  onSignedIn: () => void;
}

/** The sign-in page: whose record this is, and who one is. On a plant without people, the first administrator is made here. */
export function SignIn({ plant, demo, hasPeople, onSignedIn }: Door) {
  const [problem, setProblem] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  async function signIn(person: string, password: string): Promise<void> {
    setBusy(true);
    setProblem(null);
    try {
      const { error } = await api.POST('/api/sign-in', { body: { person, password } });
      if (error) setProblem(problemOf(error));
      else onSignedIn();
    } catch (error) {
      setProblem(problemOf(error));
    }
    setBusy(false);
  }
  return (
    <>
      {demo === null ? null : <DemoBand />}
      <main className="sign-in page" id="main">
        <p className="mark">
          <img src="/mark.svg" width="28" height="28" alt="" /> Kinledger
        </p>
        <h1>{plant}</h1>
        {hasPeople ? (
          <Form label="Sign in" problem={problem} onSubmit={(values) => void signIn(values.text('/person'), values.password('/password'))}>
            <TextField name="/person" label="Your code" code required autoComplete="username" />
            <TextField name="/password" label="Password" type="password" required autoComplete="current-password" />
            <button type="submit" className="primary" disabled={busy}>
              {busy ? 'Signing in …' : 'Sign in'}
            </button>
          </Form>
        ) : (
          <FirstPerson onMade={onSignedIn} />
        )}
        {demo === null ? null : <TryAs demo={demo} busy={busy} onTry={(person) => void signIn(person, demo.password)} />}
      </main>
    </>
  );
}

/** In a demonstration everyone may be anyone. */
function TryAs({ demo, busy, onTry }: { demo: View<'DemoView'>; busy: boolean; onTry: (person: string) => void }) {
  return (
    <section className="try-as" aria-label="Try the demonstration">
      <h2>Or try it as one of its people</h2>
      <ul>
        {demo.people.map(({ person, displayName, roles }) => (
          <li key={person}>
            <button type="button" disabled={busy} onClick={() => onTry(person)}>
              {displayName ?? person}, {inWords(roles.join(', '))}
            </button>
          </li>
        ))}
      </ul>
      <p className="quiet">
        Everybody’s password, also for signing: <code>{demo.password}</code>
      </p>
    </section>
  );
}
