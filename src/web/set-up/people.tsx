import { Link } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { Crumb } from './crumb.js';
import { ROLES, rolesInWords } from './role-words.js';

type Person = View<'PersonView'>;

/** How a person comes in, or why not. */
export function standing({ blocked, signsIn }: Person): string {
  if (blocked) return 'blocked';
  return signsIn ? 'signs in' : 'by keys only';
}

/** Everyone who can be named in an entry. */
export function People() {
  const query = server.useQuery('get', '/api/people');
  const mayAdd = useMay('administrator');
  return (
    <Answered query={query} what="the people">
      {(people) => (
        <Page
          title="People"
          crumb={<Crumb />}
          sub="Everyone acts under a code of their own; entries name the code, for good."
          facts={[
            { label: 'People', value: writtenCount(people.length) },
            { label: 'Blocked', value: writtenCount(people.filter(({ blocked }) => blocked).length) },
          ]}
          actions={
            mayAdd ? (
              <Link className="button primary" href="/set-up/new/people">
                New person
              </Link>
            ) : undefined
          }
        >
          <Section title="In the record" note="by code">
            <LedgerTable
              caption="People"
              rows={people}
              rowKey={({ person }) => person}
              columns={[
                { head: 'Code', cell: ({ person }) => <Refer kind="person" code={person} /> },
                { head: 'Name', cell: ({ displayName }) => displayName ?? <span className="quiet">not kept</span> },
                { head: 'Roles', cell: ({ roles }) => rolesInWords(roles) },
                { head: 'Comes in', cell: (one) => (one.blocked ? <span className="urgent">blocked</span> : standing(one)) },
              ]}
              empty={<Empty>Nobody yet.</Empty>}
            />
          </Section>
          <RoleTable people={people} />
        </Page>
      )}
    </Answered>
  );
}

/** What each role may do, and how many have it. */
function RoleTable({ people }: { people: readonly Person[] }) {
  const having = (role: string): number => people.filter(({ roles, blocked }) => !blocked && roles.includes(role)).length;
  return (
    <Section title="Roles" note="who may do what; everyone signed in reads everything but keys">
      <LedgerTable
        caption="Roles, what they may do, and how many people have them"
        rows={ROLES}
        rowKey={({ role }) => role}
        columns={[
          { head: 'Role', cell: ({ title }) => title },
          { head: 'May', cell: ({ may }) => may },
          {
            head: 'People',
            num: true,
            cell: ({ role }) => {
              const count = having(role);
              return count === 0 ? <span className="urgent">nobody</span> : writtenCount(count);
            },
          },
        ]}
      />
    </Section>
  );
}
