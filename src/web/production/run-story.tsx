import { Link } from 'wouter';
import { localWritten } from '../app/clock.js';
import { Facts, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import type { Run } from './run.js';

/** How the run was set up: what it follows, who cleared the line, what stood on the label, what clung to the vessel. */
export function RunStory({ run }: { run: Run }) {
  const facts = [
    ...(run.recipe === null
      ? []
      : [
          {
            label: 'Recipe',
            value: (
              <>
                <Refer kind="recipe" code={run.recipe} /> rev. {run.recipeRevision}
              </>
            ),
          },
        ]),
    ...(run.bom === null
      ? []
      : [
          {
            label: 'Bill of materials',
            value: (
              <>
                <Refer kind="bom" code={run.bom} /> rev. {run.bomRevision}
              </>
            ),
          },
        ]),
    {
      label: 'Item',
      value: (
        <>
          <Refer kind="item" code={run.item} /> rev. {run.itemRevision}
        </>
      ),
    },
  ];
  return (
    <Section title="How it was set up" note={`started ${localWritten(run.startedAt)} by ${run.startedBy}`}>
      <div className="set-up-facts">
        <Facts facts={facts} />
      </div>
      {run.clearance === null ? null : (
        <p>
          Checked clear of the product, labels and material before by <code>{run.clearance.checkedBy}</code>
          {run.clearance.note === null ? '' : `: ${run.clearance.note}`}
        </p>
      )}
      {run.label === null ? null : (
        <p>
          On the label{run.label.code === null ? '' : ` (${run.label.code})`}: <q>{run.label.text}</q>
        </p>
      )}
      {run.residues.map(({ lot, vessel }) => (
        <p key={`${lot} ${vessel}`}>
          <Refer kind="vessel" code={vessel} /> was not cleaned since <Refer kind="lot" code={lot} />: what clung to it is in this batch
          too.
        </p>
      ))}
      {run.note === null ? null : <p>{run.note}</p>}
      {run.closedSeq === null ? null : (
        <p className="no-print">
          <Link href={`/production/runs/${encodeURIComponent(run.run)}/links`}>The links it recorded, one by one</Link>
        </p>
      )}
    </Section>
  );
}
