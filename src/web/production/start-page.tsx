import { Link, useLocation, useSearch } from 'wouter';
import { Page } from '../design/page.js';
import { KIND_FORMS } from './kind-forms.js';
import { ReworkOf } from './rework-of.js';
import { RUN_KINDS, type RunKind } from './run.js';
import { StartForm } from './start-form.js';

/** Starts a run: what kind of work it is, and then only what that kind asks for. */
export function StartPage() {
  const [, go] = useLocation();
  const asked = new URLSearchParams(useSearch());
  const report = asked.get('report');
  const disposition = Number(asked.get('disposition') ?? Number.NaN);
  const kind: RunKind | undefined = report === null ? RUN_KINDS.find((one) => one === asked.get('kind')) : 'rework';
  const choose = (next: RunKind): void => {
    asked.set('kind', next);
    go(`/production/start?${asked.toString()}`, { replace: true });
  };
  return (
    <Page
      crumb={<Link href="/production">Production</Link>}
      title="Start a run"
      sub="A run is one making step: lots are charged to it, and it yields one lot."
    >
      <div className="floor">
        {report !== null && Number.isInteger(disposition) ? (
          <ReworkOf report={report} disposition={disposition} />
        ) : (
          <>
            <Kinds kind={kind} onChoose={choose} />
            {kind === undefined ? null : (
              <StartForm key={kind} kind={kind} vessel={asked.get('vessel')} item={asked.get('item')} rework={null} />
            )}
          </>
        )}
      </div>
    </Page>
  );
}

function Kinds({ kind, onChoose }: { kind: RunKind | undefined; onChoose: (kind: RunKind) => void }) {
  return (
    <fieldset className="kinds">
      <legend>What is done?</legend>
      <div className="kind-tiles">
        {RUN_KINDS.map((one) => (
          <button type="button" key={one} className="kind-tile" aria-pressed={one === kind} onClick={() => onChoose(one)}>
            <strong>{one}</strong>
            <span className="quiet">{KIND_FORMS[one].says}</span>
          </button>
        ))}
      </div>
    </fieldset>
  );
}
