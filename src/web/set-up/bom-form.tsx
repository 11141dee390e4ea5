import { useState } from 'react';
import { useLocation } from 'wouter';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, QuantityField } from '../design/fields.js';
import { Section } from '../design/page.js';
import { server, type View } from '../wire/client.js';
import { addressOf, type Words } from './book.js';
import { HeadFields, headOf, submitWords } from './edit-page.js';

interface DraftLine {
  readonly id: number;
  readonly item: string;
  readonly perPiece: string;
  readonly trackedBy: 'lot' | 'serial';
}

const emptyLine = (id: number): DraftLine => ({ id, item: '', perPiece: '1', trackedBy: 'lot' });
const draftOf = (bom: View<'BomView'> | null): DraftLine[] =>
  bom?.lines.map(({ item, perPiece, trackedBy }, id) => ({ id, item, perPiece, trackedBy: trackedBy === 'serial' ? 'serial' : 'lot' })) ?? [
    emptyLine(0),
  ];

const BUILT = ['filled', 'assembled', 'component'];
export const TRACKED = [
  { value: 'lot', says: 'by lot' },
  { value: 'serial', says: 'serial into serial' },
] as const;

/** A new bill of materials or its next revision: what one piece takes. */
export function BomForm({ record, words }: { record: View<'BomView'> | null; words: Words }) {
  const [, go] = useLocation();
  const items = server.useQuery('get', '/api/items').data ?? [];
  const [lines, setLines] = useState<readonly DraftLine[]>(() => draftOf(record));
  const built = items.filter((item) => BUILT.includes(item.class)).map(({ code, name }) => ({ code, says: name }));
  const choices = items.map(({ code, name }) => ({ code, says: name }));
  const withSerials = (code: string): boolean => items.find((item) => item.code === code.trim())?.tracking === 'serial';
  const change = (at: number, part: Partial<DraftLine>): void =>
    setLines((before) => before.map((line, i) => (i === at ? { ...line, ...part } : line)));
  return (
    <CommandForm
      path="/api/boms"
      submit={submitWords(words, record)}
      body={(values) => ({
        ...headOf(values, record),
        item: values.text('/item'),
        lines: lines.map(({ item, perPiece, trackedBy }) => ({
          item: item.trim(),
          perPiece: perPiece.trim(),
          trackedBy: withSerials(item) ? trackedBy : 'lot',
        })),
      })}
      onDone={({ code }) => go(addressOf(words.place, code))}
    >
      <HeadFields record={record} />
      <CodeField
        name="/item"
        label="Describes one piece of"
        hint="an item that is filled, assembled or a component"
        required
        choices={built}
        initial={record?.item ?? ''}
      />
      <Section title="Parts" note="what one piece takes; each item on one line">
        {lines.map((line, at) => {
          const item = items.find(({ code }) => code === line.item.trim());
          return (
            <fieldset className="part" key={line.id}>
              <legend>Part {at + 1}</legend>
              <div className="part-fields bom-line">
                <CodeField
                  name={`/lines/${at}/item`}
                  label="Item"
                  required
                  choices={choices}
                  value={line.item}
                  onValue={(code) => change(at, { item: code })}
                />
                <QuantityField
                  name={`/lines/${at}/perPiece`}
                  label="Into one piece"
                  unit={item?.unit}
                  required
                  value={line.perPiece}
                  onChange={(event) => change(at, { perPiece: event.target.value })}
                />
                <ChoiceField
                  name={`/lines/${at}/trackedBy`}
                  label="Tracked"
                  choices={withSerials(line.item) ? TRACKED : TRACKED.slice(0, 1)}
                  value={withSerials(line.item) ? line.trackedBy : 'lot'}
                  onChange={(event) => change(at, { trackedBy: event.target.value as DraftLine['trackedBy'] })}
                />
                <button type="button" className="plain" disabled={lines.length === 1} onClick={() => setLines(lines.toSpliced(at, 1))}>
                  Take out <span className="hidden-but-read">part {at + 1}</span>
                </button>
              </div>
            </fieldset>
          );
        })}
        <button type="button" onClick={() => setLines([...lines, emptyLine(1 + Math.max(-1, ...lines.map(({ id }) => id)))])}>
          Add a part
        </button>
      </Section>
    </CommandForm>
  );
}
