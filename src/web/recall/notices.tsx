import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextAreaField, TextField } from '../design/fields.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Empty, Notice, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import type { Progress, Whole } from './recall-page.js';
import { CHANNELS } from './words.js';

/** The words that go out, and to whom they went. */
export function Notices({ scope, progress }: { scope: Whole; progress: Progress }) {
  const may = useMay('quality', 'recall-lead') && progress.status === 'open';
  const text = progress.texts.at(-1);
  const sent = progress.consignees.flatMap(({ customer, name, notices }) => notices.map((notice) => ({ ...notice, customer, name })));
  return (
    <>
      <Section title="The notice" note={text ? `version ${text.version}, written ${localWritten(text.at)} by ${text.by}` : undefined}>
        {text ? (
          <pre className="notice-text">{text.content}</pre>
        ) : (
          <Empty>
            <p>No notice is written yet. It says what the product is, why it is recalled, what to stop, what to do, and how to reply.</p>
          </Empty>
        )}
        {may ? <WriteNotice scope={scope} progress={progress} /> : null}
      </Section>
      <Section title="Sent" note={`${progress.notified.notified} of ${progress.notified.consignees} consignees told`}>
        {progress.drill ? (
          <Notice>
            <p>In a drill nobody is sent anything.</p>
          </Notice>
        ) : (
          <LedgerTable
            caption="Notices sent"
            rows={sent.toSorted((a, b) => b.seq - a.seq)}
            rowKey={({ notice }) => `${notice}`}
            columns={[
              {
                head: 'Customer',
                cell: ({ customer, name }) => (
                  <>
                    <Refer kind="customer" code={customer} /> {name}
                  </>
                ),
              },
              { head: 'When', cell: ({ at }) => localWritten(at) },
              { head: 'How', cell: ({ channel }) => channel },
              { head: 'Version', num: true, cell: ({ version }) => version },
              { head: 'By', cell: ({ by }) => <code>{by}</code> },
            ]}
            empty={
              <Empty>
                <p>
                  Nobody has been told. Notices are sent by your own mail, telephone or visit, and recorded here at that moment, customer by
                  customer.
                </p>
              </Empty>
            }
          />
        )}
      </Section>
      {may && text && !progress.drill && progress.strategy?.publicWarning.needed ? (
        <WarnPublic progress={progress} version={text.version} />
      ) : null}
    </>
  );
}

function WriteNotice({ scope, progress }: { scope: Whole; progress: Progress }) {
  const urgent = progress.strategy !== null && progress.strategy.class !== 'III';
  const goods = scope.lots.filter(({ lot }) => scope.consignees.some(({ lines }) => lines.some((line) => line.lot === lot)));
  const products = [...new Set(goods.map(({ itemName }) => itemName))].join(', ');
  return (
    <details>
      <summary className="tap">{progress.texts.length === 0 ? 'Write the notice …' : 'Write a new version …'}</summary>
      <CommandForm
        path="/api/recalls/{recall}/notice-texts"
        address={{ recall: progress.recall }}
        submit="Keep this text"
        body={(values) => ({
          subject: values.text('/subject'),
          product: values.text('/product'),
          reason: values.text('/reason'),
          stop: values.text('/stop'),
          doWhat: values.text('/doWhat'),
          passOn: values.maybe('/passOn'),
          replyTo: values.text('/replyTo'),
        })}
        onDone={() => undefined}
      >
        <TextField
          name="/subject"
          label="Subject"
          required
          defaultValue={`${urgent ? 'URGENT: ' : ''}Recall of ${products}`}
          hint="begins with URGENT for class I and II, and only then"
        />
        <TextAreaField
          name="/product"
          label="Product, size, lots"
          required
          defaultValue={`${products}, lots ${goods.map(({ lot }) => lot).join(', ')}`}
          hint="every lot the consignee was sent, by its code"
        />
        <TextAreaField
          name="/reason"
          label="Reason and hazard"
          required
          defaultValue={scope.hazard === null ? scope.reason : `${scope.reason} ${scope.hazard}`}
        />
        <TextAreaField
          name="/stop"
          label="What to stop"
          required
          defaultValue="This product is subject to a recall. Stop distributing and using it now."
        />
        <TextAreaField name="/doWhat" label="What to do with it" required defaultValue={scope.instruction ?? ''} />
        <TextAreaField name="/passOn" label="Whom to tell further" hint="left empty where consignees are the last in the chain" />
        <TextAreaField name="/replyTo" label="How to reply" required defaultValue={scope.contact ?? ''} />
      </CommandForm>
    </details>
  );
}

function WarnPublic({ progress, version }: { progress: Progress; version: number }) {
  return (
    <Section title="Public warning" note={`${progress.notified.publicNotices.length} recorded`}>
      <Caution>A public warning is agreed with the authority first. Recording one here publishes nothing.</Caution>
      <CommandForm
        path="/api/recalls/{recall}/notices"
        address={{ recall: progress.recall }}
        submit="Record that the public was warned now"
        body={(values) => ({ channel: values.choice('/channel'), contentVersion: version })}
        onDone={() => undefined}
      >
        <ChoiceField name="/channel" label="How" choices={[{ value: 'public-warning', says: 'public warning' }]} />
      </CommandForm>
    </Section>
  );
}

/** Records that a consignee was told, at this moment. */
export function TellForm({ progress, customer, onDone }: { progress: Progress; customer: string; onDone: () => void }) {
  const version = progress.texts.at(-1)?.version;
  if (progress.strategy === null || version === undefined) {
    return <p className="quiet">First the strategy and the words of the notice, then the notice itself.</p>;
  }
  return (
    <CommandForm
      path="/api/recalls/{recall}/notices"
      address={{ recall: progress.recall }}
      submit={`Record that ${customer} is told now`}
      body={(values) => ({
        customer,
        channel: values.choice('/channel'),
        contentVersion: version,
        nextContactOn: values.maybe('/nextContactOn'),
      })}
      onDone={onDone}
    >
      <div className="grid">
        <ChoiceField name="/channel" label="How" choices={CHANNELS} />
        <TextField name="/nextContactOn" label="Ask again on" type="date" hint="left empty: by the class" />
      </div>
    </CommandForm>
  );
}
