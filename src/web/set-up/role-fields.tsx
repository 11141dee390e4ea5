import { useState } from 'react';
import type { Role } from '../app/session.js';
import { useFaults } from '../design/form.js';
import { ROLES } from './role-words.js';

/** The roles a person has, each with what it lets them do. */
export function RoleFields({ initial = [] }: { initial?: readonly string[] }) {
  const { id, faults } = useFaults('/roles');
  const [chosen, setChosen] = useState<readonly string[]>(initial);
  const alone = chosen.includes('auditor') && chosen.length > 1;
  const tick = (role: Role, on: boolean): void =>
    setChosen(ROLES.map((one) => one.role).filter((one) => (one === role ? on : chosen.includes(one))));
  return (
    <fieldset className="field roles">
      <legend>Roles</legend>
      {ROLES.map(({ role, title, may }, at) => (
        <label key={role} className="check">
          <input
            type="checkbox"
            name="/roles"
            value={role}
            id={at === 0 ? id : undefined}
            checked={chosen.includes(role)}
            onChange={(event) => tick(role, event.target.checked)}
          />
          <span>
            <strong>{title}</strong> <span className="quiet">{may}</span>
          </span>
        </label>
      ))}
      {alone && faults.length === 0 ? (
        <span className="hint">
          <span className="typed-fault">An auditor changes nothing: the role is held alone.</span>
        </span>
      ) : null}
      {faults.length === 0 ? null : <span className="fault">{faults.map(({ detail }) => detail).join('; ')}</span>}
    </fieldset>
  );
}
