import { useLocation, useSearch } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { AQLS } from '../../../shared/sampling/aql.js';
import { LEVELS } from '../../../shared/sampling/code-letter.js';
import { Answered } from '../design/answered.js';
import { sameWords } from '../design/choices.js';
import { ChoiceField, TextField } from '../design/fields.js';
import { Form } from '../design/form.js';
import { Facts, Page, Section } from '../design/page.js';
import { server } from '../wire/client.js';
import { CurveOf } from './curve.js';
import { InspectionTabs } from './inspection-tabs.js';
import { curveQuestion, planInWords } from './plan-numbers.js';
import { writtenItems } from './words.js';

interface Asked {
  readonly lotSize: string;
  readonly level: string;
  readonly aql: string;
  readonly severity: string;
  readonly type: string;
  readonly basis: string;
}
const USUAL: Asked = { lotSize: '1200', level: 'II', aql: '1.0', severity: 'normal', type: 'single', basis: 'items' };
const NAMES = Object.keys(USUAL) as (keyof Asked)[];

/** What a sampling plan can tell of a lot, and what it cannot: the plan for a lot size, and its operating characteristic. */
export function OcPage() {
  const search = new URLSearchParams(useSearch());
  const [, go] = useLocation();
  const asked = Object.fromEntries(NAMES.map((name) => [name, search.get(name) ?? USUAL[name]])) as unknown as Asked;
  return (
    <Page
      title="What a plan can tell"
      sub="A sample speaks for its lot only as far as this curve says. Look before a plan is chosen, and when a verdict is doubted."
    >
      <InspectionTabs />
      <div className="sheet ask six no-print">
        <Form
          problem={null}
          label="Which plan"
          onSubmit={(values) =>
            go(`/inspection/oc?${new URLSearchParams(NAMES.map((name) => [name, values.text(`/${name}`)])).toString()}`)
          }
        >
          <div className="grid" key={search.toString()}>
            <TextField
              name="/lotSize"
              label="Lot size"
              inputMode="numeric"
              pattern="[1-9][0-9]*"
              title="a whole number"
              required
              defaultValue={asked.lotSize}
            />
            <ChoiceField name="/level" label="Inspection level" choices={sameWords(LEVELS)} defaultValue={asked.level} />
            <ChoiceField name="/aql" label="AQL" choices={sameWords(AQLS)} defaultValue={asked.aql} />
            <ChoiceField
              name="/severity"
              label="Severity"
              choices={sameWords(['normal', 'tightened', 'reduced'])}
              defaultValue={asked.severity}
            />
            <ChoiceField name="/type" label="Samples" choices={sameWords(['single', 'double'])} defaultValue={asked.type} />
            <ChoiceField
              name="/basis"
              label="What is counted"
              choices={[
                { value: 'items', says: 'nonconforming items' },
                { value: 'nonconformities', says: 'nonconformities' },
              ]}
              defaultValue={asked.basis}
            />
          </div>
          <div className="row">
            <button type="submit" className="primary">
              Show the plan and its curve
            </button>
          </div>
        </Form>
      </div>
      <Plan asked={asked} />
    </Page>
  );
}

function Plan({ asked }: { asked: Asked }) {
  const question = { ...asked, lotSize: Number(asked.lotSize) };
  const query = server.useQuery('get', '/api/sampling/plan', { params: { query: question as never } }, { staleTime: Infinity });
  return (
    <Answered query={query} what="the plan">
      {(found) => {
        const { plan, codeLetter, edition } = found;
        const single = 'n' in plan;
        return (
          <Section
            title="The plan"
            note={`${edition}, lots of ${writtenCount(question.lotSize)}, level ${asked.level}, AQL ${asked.aql}, ${asked.severity}`}
          >
            <Facts
              facts={[
                { label: 'Code letter', value: codeLetter },
                ...(single
                  ? [
                      { label: 'Take', value: writtenCount(plan.n) },
                      { label: 'Accept up to (Ac)', value: plan.ac },
                      { label: 'Not accepted from (Re)', value: plan.re },
                    ]
                  : [
                      { label: 'Take first', value: writtenCount(plan.n1) },
                      { label: 'Ac, Re', value: `${plan.ac1}, ${plan.re1}` },
                      { label: 'Then take', value: writtenCount(plan.n2) },
                      { label: 'Of both: Ac, Re', value: `${plan.ac2}, ${plan.re2}` },
                    ]),
              ]}
            />
            <ul className="plan-says">
              <li>In words: {planInWords(plan)}.</li>
              {found.inspectAll ? <li>Every item is inspected: {found.inspectAllBecause ?? writtenItems(question.lotSize)}.</li> : null}
              {found.arrows.map(({ from, direction, to }) => (
                <li key={`${from} ${direction}`}>
                  {direction === 'single'
                    ? `The single plan of letter ${to} stands for the double one`
                    : `An arrow ${direction} leads from letter ${from} to letter ${to}`}
                  .
                </li>
              ))}
              {found.unverified === null ? null : <li>Not verified: {found.unverified}.</li>}
            </ul>
            <CurveOf
              question={curveQuestion(plan, asked.aql, asked.basis as 'items' | 'nonconformities')}
              name={`Operating characteristic: ${planInWords(plan)}`}
            />
          </Section>
        );
      }}
    </Answered>
  );
}
