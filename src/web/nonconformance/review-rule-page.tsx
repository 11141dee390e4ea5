import { useState } from 'react';
import { Link } from 'wouter';
import { inWords } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { type Role, useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { ChoiceField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Notice, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { asTitle, kindWords } from './words.js';

type Rule = View<'ReviewRuleView'>;
type KindRule = View<'KindRuleView'>;

const SIGNING: readonly Role[] = ['quality', 'operator', 'inspector', 'dispatcher', 'recall-lead', 'administrator'];

/** Whose signatures dispositions wait for. Quality sets the rule; it holds for what is proposed after it. */
export function ReviewRulePage() {
  const query = server.useQuery('get', '/api/review-rule');
  return (
    <Page
      crumb={<Link href="/nonconformance">Nonconformance</Link>}
      title="Who signs dispositions"
      sub="One person signs once, for a function that is theirs. At least one signer neither raised the report nor made the pieces."
    >
      <Answered query={query} what="the rule">
        {(rule) => <TheRule rule={rule} />}
      </Answered>
    </Page>
  );
}

function TheRule({ rule }: { rule: Rule }) {
  const may = useMay('quality');
  const [changing, setChanging] = useState<KindRule | null>(null);
  return (
    <>
      <Section title="The rule" note={<Since rule={rule} />}>
        <LedgerTable
          caption="Signatures that each kind of disposition waits for"
          rows={rule.rules}
          rowKey={({ disposition }) => disposition}
          rowClass={({ disposition }) => (disposition === changing?.disposition ? 'chosen' : undefined)}
          columns={[
            { head: 'Disposition', cell: ({ disposition }) => kindWords(disposition).says },
            { head: 'Must be among the signers', cell: ({ functions }) => functions.map(inWords).join(', ') },
            { head: 'Signers in all', num: true, cell: ({ signers }) => signers },
            ...(may
              ? [
                  {
                    head: 'Change',
                    cell: (one: KindRule) => (
                      <button type="button" onClick={() => setChanging(one)}>
                        Change<span className="hidden-but-read"> {kindWords(one.disposition).says}</span>
                      </button>
                    ),
                  },
                ]
              : []),
          ]}
        />
        <Notice>
          <p>
            Whatever the rule says: a critical nonconformity has no concession or repair on one signature, and no concession by quality
            alone.
          </p>
        </Notice>
      </Section>
      {changing === null ? null : <ChangeRule key={changing.disposition} one={changing} onClose={() => setChanging(null)} />}
    </>
  );
}

const Since = ({ rule }: { rule: Rule }) =>
  rule.sinceSeq === 0 ? (
    <>the usual one: this plant has set no other</>
  ) : (
    <>
      set by <code>{rule.by}</code> {rule.at === null ? '' : localWritten(rule.at)}, entry <Refer kind="entry" code={`${rule.sinceSeq}`} />
      {rule.reason === null ? '' : `: ${rule.reason}`}
    </>
  );

function ChangeRule({ one, onClose }: { one: KindRule; onClose: () => void }) {
  const says = kindWords(one.disposition).says;
  const ruleOf = (values: FormValues): KindRule => ({
    disposition: one.disposition,
    functions: values.all<Role>('/rules/0/functions'),
    signers: values.whole('/rules/0/signers') ?? 1,
  });
  return (
    <Dialog title={`Who signs: ${says}`} onClose={onClose}>
      <CommandForm
        path="/api/review-rule"
        body={(values) => ({ rules: [ruleOf(values)] })}
        submit="Sign the rule"
        signs={`that from now on a disposition of this kind (${says}) waits for the signatures ticked here`}
        onDone={onClose}
        onCancel={onClose}
      >
        <fieldset>
          <legend>Must be among the signers</legend>
          <div className="nc-ticks">
            {SIGNING.map((role) => (
              <label className="check" key={role}>
                <input type="checkbox" name="/rules/0/functions" value={role} defaultChecked={one.functions.includes(role)} />{' '}
                {asTitle(role)}
              </label>
            ))}
          </div>
        </fieldset>
        <ChoiceField
          name="/rules/0/signers"
          label="Signers in all"
          hint="Each for another function"
          choices={[1, 2, 3, 4].map((count) => ({ value: `${count}`, says: `${count}` }))}
          defaultValue={`${one.signers}`}
        />
      </CommandForm>
    </Dialog>
  );
}
