import { inWords, writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { Entries } from '../design/entries.js';
import { Page } from '../design/page.js';
import { Stamp } from '../design/stamp.js';
import { Tabs } from '../design/tabs.js';
import { server, type View } from '../wire/client.js';
import { Closing } from './closing.js';
import { Consignees } from './consignees.js';
import { DrillClock } from './drill-clock.js';
import { Notices } from './notices.js';
import { Reconciliation } from './reconciliation.js';
import { Scope } from './scope.js';
import { Strategy } from './strategy.js';
import './recall.css';

export type Whole = View<'RecallView'>;
export type Progress = View<'RecallProgressView'>;

/** One recall: its frozen scope, its strategy and notices, its consignees, what has come back, and its closing. */
export function RecallPage({ recall, part }: { recall: string; part: string }) {
  const address = { params: { path: { recall } } };
  const whole = server.useQuery('get', '/api/recalls/{recall}', address);
  const status = server.useQuery('get', '/api/recalls/{recall}/status', address);
  const here = `/recall/${encodeURIComponent(recall)}`;
  return (
    <Answered query={whole} what={`recall ${recall}`}>
      {(scope) => (
        <Answered query={status} what="how far it has come">
          {(progress) => (
            <Page
              crumb={scope.type === 'recall' ? 'Recall' : `Recall · ${inWords(scope.type)}`}
              title={scope.recall}
              sub={`${scope.title}. Opened ${localWritten(scope.openedAt)} by ${scope.openedBy}; known at entry ${scope.scopes.at(-1)?.knownSeq ?? ''}.`}
              stamps={<Marks scope={scope} progress={progress} />}
              facts={factsOf(scope, progress)}
            >
              {progress.times.drill === null ? null : <DrillClock clock={progress.times.drill} openedAt={progress.times.openedAt} />}
              <div className="recall-parts">
                <Tabs
                  label="Parts of the recall"
                  tabs={[
                    { href: here, title: 'Scope' },
                    { href: `${here}/strategy`, title: 'Strategy' },
                    { href: `${here}/notices`, title: 'Notices' },
                    { href: `${here}/consignees`, title: 'Consignees and answers' },
                    { href: `${here}/reconciliation`, title: 'Reconciliation' },
                    { href: `${here}/closing`, title: 'Closing and report' },
                  ]}
                />
              </div>
              <Part part={part} scope={scope} progress={progress} />
              <Entries about={{ recall }} />
            </Page>
          )}
        </Answered>
      )}
    </Answered>
  );
}

function Part({ part, scope, progress }: { part: string; scope: Whole; progress: Progress }) {
  if (part === 'strategy') return <Strategy progress={progress} />;
  if (part === 'notices') return <Notices scope={scope} progress={progress} />;
  if (part === 'consignees') return <Consignees progress={progress} />;
  if (part === 'reconciliation') return <Reconciliation scope={scope} progress={progress} />;
  if (part === 'closing') return <Closing scope={scope} progress={progress} />;
  return <Scope scope={scope} />;
}

function Marks({ scope, progress }: { scope: Whole; progress: Progress }) {
  return (
    <span className="stamps">
      {scope.drill ? <Stamp word="Drill" /> : null}
      {progress.strategy === null ? null : <Stamp word={`Class ${progress.strategy.class}`} />}
      <Stamp word={progress.status} />
    </span>
  );
}

function factsOf(scope: Whole, { notified, replied, goods }: Progress) {
  const chosen = scope.scopes.at(-1)?.chosen === 'conservative' ? scope.conservative : scope.narrow;
  const pieces = goods.find(({ unit }) => unit === 'pieces');
  return [
    { label: 'Pieces', value: writtenCount(chosen.pieces), warn: true },
    { label: 'Lots', value: writtenCount(chosen.lots) },
    { label: 'Consignees', value: writtenCount(notified.consignees) },
    ...(scope.drill
      ? []
      : [
          { label: 'Told', value: writtenCount(notified.notified) },
          { label: 'Answered', value: writtenCount(replied.replied) },
          { label: 'Accounted for', value: `${(pieces ?? goods[0])?.accounted ?? '0'} %` },
        ]),
  ];
}
