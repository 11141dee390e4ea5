import { writtenDate } from '../../../shared/written.js';
import { useMay } from '../app/session.js';
import { localWritten } from '../app/clock.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextAreaField, TextField, TickField } from '../design/fields.js';
import { Caution, Empty, Section } from '../design/page.js';
import type { Progress } from './recall-page.js';
import { CLASSES, DEPTHS, LEVELS } from './words.js';

const QUESTIONS = [
  ['injuries', 'Illness or injuries that have happened'],
  ['conditions', 'Conditions that make harm more likely'],
  ['exposed', 'Who is exposed, the most vulnerable included'],
  ['seriousness', 'How serious the harm would be'],
  ['likelihood', 'How likely it is'],
  ['consequences', 'Consequences, at once and in the long run'],
] as const;

/** The evaluation of the hazard, the class that follows from it, and how far and how hard goods are called back. */
export function Strategy({ progress }: { progress: Progress }) {
  const may = useMay('quality', 'recall-lead') && progress.status === 'open';
  const { strategy } = progress;
  return (
    <>
      <Section title="Strategy" note={strategy === null ? undefined : `set ${localWritten(strategy.at)} by ${strategy.by}`}>
        {strategy === null ? (
          <Empty>
            <p>
              No strategy yet. It comes before anyone is told: six answers about the hazard, the class with its reason, how far down the
              chain, whether the public is warned, and how many consignees are checked on.
            </p>
          </Empty>
        ) : (
          <Told strategy={strategy} />
        )}
        {progress.strategies.length > 1 ? (
          <p className="quiet">
            Earlier:{' '}
            {progress.strategies
              .slice(0, -1)
              .map((one) => `class ${one.class} by ${one.by}, ${localWritten(one.at)}`)
              .join('; ')}
          </p>
        ) : null}
      </Section>
      {may ? <SetStrategy progress={progress} /> : null}
    </>
  );
}

function Told({ strategy }: { strategy: NonNullable<Progress['strategy']> }) {
  return (
    <dl className="told">
      <dt>Class {strategy.class}</dt>
      <dd>{strategy.classReason}</dd>
      {QUESTIONS.map(([key, title]) => (
        <div key={key}>
          <dt>{title}</dt>
          <dd>{strategy.evaluation[key]}</dd>
        </div>
      ))}
      <dt>Depth</dt>
      <dd>{DEPTHS.find(({ value }) => value === strategy.depth)?.says}</dd>
      <dt>Public warning</dt>
      <dd>
        {strategy.publicWarning.needed ? 'needed' : 'not needed'}: {strategy.publicWarning.reason}
      </dd>
      <dt>Effectiveness checks</dt>
      <dd>
        {LEVELS.find(({ value }) => value === strategy.level)?.says}
        {strategy.sampleSize === null ? '' : `, ${strategy.sampleSize}`}
      </dd>
      <dt>Status report</dt>
      <dd>
        every {strategy.reportEveryDays} days{strategy.completionOn === null ? '' : `, complete by ${writtenDate(strategy.completionOn)}`}
      </dd>
    </dl>
  );
}

function SetStrategy({ progress }: { progress: Progress }) {
  const before = progress.strategy;
  return (
    <Section title={before === null ? 'Set the strategy' : 'Set it anew'}>
      <Caution>
        <p>
          The class is a judgement on health hazard. It is made by people qualified for it, and authorities may classify differently: follow
          the law of every country the goods went to, and its deadlines for telling the authority.
        </p>
      </Caution>
      <CommandForm
        path="/api/recalls/{recall}/strategy"
        address={{ recall: progress.recall }}
        submit="Sign the strategy"
        signs={`the hazard evaluation, class and strategy of ${progress.recall}`}
        body={(values) => ({
          evaluation: {
            injuries: values.text('/evaluation/injuries'),
            conditions: values.text('/evaluation/conditions'),
            exposed: values.text('/evaluation/exposed'),
            seriousness: values.text('/evaluation/seriousness'),
            likelihood: values.text('/evaluation/likelihood'),
            consequences: values.text('/evaluation/consequences'),
          },
          class: values.choice('/class'),
          classReason: values.text('/classReason'),
          depth: values.choice('/depth'),
          publicWarning: { needed: values.on('/publicWarning/needed'), reason: values.text('/publicWarning/reason') },
          level: values.choice('/level'),
          sampleSize: values.whole('/sampleSize'),
          completionOn: values.maybe('/completionOn'),
          reportEveryDays: values.whole('/reportEveryDays'),
        })}
        onDone={() => undefined}
      >
        <div className="grid">
          {QUESTIONS.map(([key, title]) => (
            <TextAreaField key={key} name={`/evaluation/${key}`} label={title} required defaultValue={before?.evaluation[key]} />
          ))}
        </div>
        <div className="grid">
          <ChoiceField name="/class" label="Class" choices={CLASSES} defaultValue={before?.class} />
          <ChoiceField name="/depth" label="Depth" choices={DEPTHS} defaultValue={before?.depth} />
          <ChoiceField name="/level" label="Effectiveness checks" choices={LEVELS} defaultValue={before?.level} />
          <TextField name="/sampleSize" label="Number, for level B" inputMode="numeric" pattern="[0-9]+" title="a whole number" />
          <TextField name="/completionOn" label="Complete by" type="date" defaultValue={before?.completionOn ?? ''} />
          <TextField
            name="/reportEveryDays"
            label="Status report every … days"
            inputMode="numeric"
            pattern="[0-9]+"
            title="a whole number of days"
            hint="left empty: 14"
          />
        </div>
        <TextAreaField name="/classReason" label="Why this class" required defaultValue={before?.classReason} />
        <TickField name="/publicWarning/needed" label="The public is warned" defaultChecked={before?.publicWarning.needed} />
        <TextAreaField name="/publicWarning/reason" label="Why it is warned, or not" required defaultValue={before?.publicWarning.reason} />
      </CommandForm>
    </Section>
  );
}
