import { useState } from 'react';
import { useLocation } from 'wouter';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, QuantityField, TextField } from '../design/fields.js';
import { Section } from '../design/page.js';
import type { View } from '../wire/client.js';
import { addressOf } from './book.js';
import { CheckedField } from './checked-field.js';
import { gtinFault } from './code-checks.js';
import { HeadFields, headOf, submitWords } from './edit-page.js';
import { ITEM_WORDS } from './item-book.js';
import {
  CLASSES,
  explained,
  firstSerial,
  fitting,
  inShort,
  type ItemClass,
  type Tracking,
  TRACKINGS,
  trackingsOf,
  type Unit,
  UNITS,
  unitsOf,
} from './item-words.js';

type Item = View<'ItemView'>;

/** A new item or its next revision: what it is, how its lots are counted, and what belongs on labels. */
export function ItemForm({ record }: { record: Item | null }) {
  const [, go] = useLocation();
  const [of, setOf] = useState((record?.class ?? 'raw-material') as ItemClass);
  const [unitChosen, setUnit] = useState((record?.unit ?? 'kg') as Unit);
  const [trackingChosen, setTracking] = useState((record?.tracking ?? 'bulk') as Tracking);
  const unit = fitting(unitChosen, unitsOf(of));
  const tracking = fitting(trackingChosen, trackingsOf(of, unit));
  return (
    <CommandForm
      path="/api/items"
      submit={submitWords(ITEM_WORDS, record)}
      body={(values) => ({
        ...headOf(values, record),
        class: of,
        unit,
        tracking,
        gtin: values.maybe('/gtin'),
        density: values.maybe('/density'),
        shelfLifeDays: values.whole('/shelfLifeDays'),
        content: values.maybe('/content'),
        serialPattern: values.maybe('/serialPattern'),
        hazard: values.maybe('/hazard'),
        storage: values.maybe('/storage'),
      })}
      onDone={({ code }) => go(addressOf('items', code))}
    >
      <HeadFields record={record} codeHint="as it stands on shelves and papers; stays for good" />
      <Section title="How its lots are counted" note="stays once there are lots of it">
        <div className="grid">
          <ChoiceField
            name="/class"
            label="What it is"
            choices={inShort(CLASSES)}
            hint={explained(CLASSES, of)}
            value={of}
            onChange={(event) => setOf(event.target.value as ItemClass)}
          />
          <ChoiceField
            name="/unit"
            label="Counted in"
            choices={UNITS.filter(({ value }) => unitsOf(of).includes(value))}
            value={unit}
            onChange={(event) => setUnit(event.target.value as Unit)}
          />
          <ChoiceField
            name="/tracking"
            label="A lot is"
            choices={inShort(TRACKINGS.filter(({ value }) => trackingsOf(of, unit).includes(value)))}
            hint={explained(TRACKINGS, tracking)}
            value={tracking}
            onChange={(event) => setTracking(event.target.value as Tracking)}
          />
          {unit === 'kg' || unit === 'L' ? (
            <QuantityField
              name="/density"
              label="Density"
              unit="kg per L"
              defaultValue={record?.density ?? ''}
              hint={
                unit === 'L'
                  ? 'needed before a recipe can take it: mixtures are reckoned by mass'
                  : 'as 0.85; only where litres and kilograms meet'
              }
            />
          ) : null}
          {of === 'filled' ? (
            <QuantityField
              name="/content"
              label="Content of one"
              unit="kg"
              defaultValue={record?.content ?? ''}
              hint="as 0.25; what the label promises"
            />
          ) : null}
          {tracking === 'serial' ? <SerialPatternField initial={record?.serialPattern ?? ''} /> : null}
        </div>
      </Section>
      <Section title="On labels and in stock">
        <div className="form">
          <div className="grid">
            <CheckedField
              name="/gtin"
              label="GTIN"
              check={gtinFault}
              initial={record?.gtin ?? ''}
              hint="8, 12, 13 or 14 digits; by it a scan finds the item"
              right="its check digit is right"
            />
            <TextField
              name="/shelfLifeDays"
              label="Shelf life (days)"
              inputMode="numeric"
              pattern="[1-9][0-9]*"
              title="a whole number of days"
              defaultValue={record?.shelfLifeDays ?? ''}
              hint="from the day it is made; left empty: it does not expire by itself"
            />
          </div>
          <TextField
            name="/hazard"
            label="Hazard"
            maxLength={500}
            defaultValue={record?.hazard ?? ''}
            hint="said wherever it is received, charged or moved, as its safety data sheet says it"
          />
          <TextField
            name="/storage"
            label="Storage"
            maxLength={500}
            defaultValue={record?.storage ?? ''}
            hint="as: frost-free, away from flames"
          />
        </div>
      </Section>
    </CommandForm>
  );
}

function SerialPatternField({ initial }: { initial: string }) {
  const [pattern, setPattern] = useState(initial);
  const first = firstSerial(pattern.trim());
  return (
    <TextField
      name="/serialPattern"
      label="Pattern of serials made here"
      code
      value={pattern}
      onChange={(event) => setPattern(event.target.value)}
      hint={first === null ? 'as K-{n:5}, which begins with K-00001; left empty: serials are typed or scanned' : `begins with ${first}`}
    />
  );
}
