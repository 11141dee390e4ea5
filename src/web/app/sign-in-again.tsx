import { useState } from 'react';
import { Dialog } from '../design/dialog.js';
import { TextField } from '../design/fields.js';
import { Form } from '../design/form.js';
import { api } from '../wire/client.js';
import { type Problem, problemOf } from '../wire/problem.js';
import type { Me } from './session.js';

/**
 * Stands over the page when a session has ended in the middle of it: what was typed stays as it is, and goes on once the same person has
 * signed in again. It cannot be closed: behind it nothing can be sent.
 */
export function SignInAgain({ me, onSignedIn, onLeave }: { me: Me; onSignedIn: () => Promise<void>; onLeave: () => void }) {
  const [problem, setProblem] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  async function signIn(password: string): Promise<void> {
    setBusy(true);
    setProblem(null);
    try {
      const { error } = await api.POST('/api/sign-in', { body: { person: me.person, password } });
      if (error) setProblem(problemOf(error));
      else await onSignedIn();
    } catch (error) {
      setProblem(problemOf(error));
    }
    setBusy(false);
  }
  return (
    <Dialog title="Your session has ended" onClose={() => undefined}>
      <p>Sign in again as {me.displayName ?? me.person} to go on. What you typed is still there, and nothing of it has been sent since.</p>
      <Form label="Sign in again" problem={problem} onSubmit={(values) => void signIn(values.password('/password'))}>
        <input type="text" name="username" value={me.person} autoComplete="username" readOnly hidden />
        <TextField name="/password" label={`Password of ${me.person}`} type="password" required autoComplete="current-password" />
        <div className="row">
          <button type="submit" className="primary" disabled={busy}>
            {busy ? 'Signing in …' : 'Sign in'}
          </button>
          <button type="button" onClick={onLeave}>
            Leave the page and sign in as someone else
          </button>
        </div>
      </Form>
    </Dialog>
  );
}
