import { useState } from 'react';
import { api } from '../wire/client.js';
import { type Problem, problemOf } from '../wire/problem.js';
import { TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Form } from '../design/form.js';

/** Makes the first administrator of a new plant, with the code that the server printed when it started. */
export function FirstPerson({ onMade }: { onMade: () => void }) {
  const [problem, setProblem] = useState<Problem | null>(null);
  async function send(values: FormValues): Promise<void> {
    const body = {
      code: values.text('/code'),
      person: values.text('/person'),
      displayName: values.maybe('/displayName'),
      password: values.password('/password'),
    };
    try {
      const { error } = await api.POST('/api/set-up', { body });
      if (error) setProblem(problemOf(error));
      else onMade();
    } catch (error) {
      setProblem(problemOf(error));
    }
  }
  return (
    <Form problem={problem} onSubmit={(values) => void send(values)}>
      <p>This plant has no people yet. The server printed a set-up code when it started; it is good once.</p>
      <TextField name="/code" label="Set-up code" code required />
      <TextField name="/person" label="Your code, which stays yours" code required hint="As it will stand in every entry: ada.clerk" />
      <TextField name="/displayName" label="Your name" />
      <TextField
        name="/password"
        label="A password of at least 12 characters"
        type="password"
        minLength={12}
        required
        autoComplete="new-password"
      />
      <button type="submit" className="primary">
        Make the first administrator
      </button>
    </Form>
  );
}
