import { useState } from 'react';
import { useMay, useMe } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { Entries } from '../design/entries.js';
import { Page, Section } from '../design/page.js';
import { Said } from '../design/said.js';
import { Stamp } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';
import { Crumb } from './crumb.js';
import { standing } from './people.js';
import { PersonAction, type ActionName } from './person-actions.js';
import { roleMay, roleTitle } from './role-words.js';

type Person = View<'PersonView'>;

/** One person: what they may do, whether they come in, and what an administrator can change about that. */
export function PersonPage({ code }: { code: string }) {
  const query = server.useQuery('get', '/api/people/{person}', { params: { path: { person: code } } });
  const [said, setSaid] = useState<string | null>(null);
  return (
    <Answered query={query} what={`person ${code}`}>
      {(person) => (
        <Page
          title={<span className="code">{person.person}</span>}
          name={`${person.person}, person`}
          crumb={<Crumb place="people" title="People" />}
          sub={person.displayName ?? 'no name is kept'}
          stamps={person.blocked ? <Stamp word="Blocked" /> : null}
          facts={[
            { label: 'Roles', value: person.roles.length },
            { label: 'Comes in', value: standing(person), warn: person.blocked },
          ]}
        >
          <Said says={said} />
          <Section title="May">
            <dl className="roles-of">
              {person.roles.map((role) => (
                <div key={role}>
                  <dt>{roleTitle(role)}</dt>
                  <dd>{roleMay(role)}</dd>
                </div>
              ))}
            </dl>
          </Section>
          <Change person={person} onDone={setSaid} />
          <Entries about={{ person: code }} />
        </Page>
      )}
    </Answered>
  );
}

const TITLES: Readonly<Record<ActionName, string>> = {
  roles: 'Change roles …',
  password: 'Give a new password …',
  name: 'Change or erase the name …',
  block: 'Block …',
  unblock: 'Let them in again …',
};

function Change({ person, onDone }: { person: Person; onDone: (said: string) => void }) {
  const may = useMay('administrator');
  const me = useMe().person === person.person;
  const [open, setOpen] = useState<ActionName | null>(null);
  if (!may) return null;
  const actions: ActionName[] = ['roles', 'password', 'name', person.blocked ? 'unblock' : 'block'];
  return (
    <Section title="Change" note={me ? 'this is you' : undefined}>
      <div className="row">
        {actions.map((name) => (
          <button key={name} type="button" className={name === 'block' ? 'danger' : undefined} onClick={() => setOpen(name)}>
            {TITLES[name]}
          </button>
        ))}
      </div>
      {open === null ? null : (
        <PersonAction
          name={open}
          person={person}
          onClose={() => setOpen(null)}
          onDone={(said) => {
            setOpen(null);
            onDone(said);
          }}
        />
      )}
    </Section>
  );
}
