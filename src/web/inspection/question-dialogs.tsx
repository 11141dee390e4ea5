import { useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { ChoiceField, TextAreaField } from '../design/fields.js';
import type { View } from '../wire/client.js';
import type { BodyOf } from '../wire/use-command.js';

type Conclusion = BodyOf<'/api/instruments/questions/{calibration}/answer'>['conclusion'];

/** The answer on what an instrument out of tolerance has judged: signed, for what is in doubt at this moment. */
export function AnswerQuestion({ question, onClose }: { question: View<'InstrumentQuestionView'>; onClose: () => void }) {
  const { calibration, instrument, results, lots } = question;
  const [conclusion, setConclusion] = useState<Conclusion>('no-effect');
  const amount = `${writtenCount(results)} results on ${writtenCount(lots)} lots`;
  return (
    <Dialog title={`What ${instrument} judged`} onClose={onClose}>
      <CommandForm
        path="/api/instruments/questions/{calibration}/answer"
        address={{ calibration }}
        body={() => ({ conclusion })}
        signs={
          conclusion === 'no-effect'
            ? `that ${amount} still stand although ${instrument} was out of tolerance`
            : `that what may be wrong of ${amount} was held, inspected again or recalled`
        }
        submit="Sign the answer"
        onDone={onClose}
        onCancel={onClose}
      >
        <ChoiceField
          name="/conclusion"
          label="What follows"
          choices={[
            { value: 'no-effect', says: 'What it judged still stands' },
            { value: 'contained', says: 'What may be wrong is contained: held, inspected again or recalled' },
          ]}
          value={conclusion}
          onChange={(event) => setConclusion(event.target.value as Conclusion)}
        />
      </CommandForm>
    </Dialog>
  );
}

/** Puts right a calibration recorded in error; it stays readable. */
export function VoidCalibration({ calibration: of, onClose }: { calibration: View<'CalibrationView'>; onClose: () => void }) {
  const { calibration, instrument } = of;
  return (
    <Dialog title={`${calibration} was recorded in error`} onClose={onClose}>
      <p>
        It counts no more, also for the time since: {instrument} goes by the calibration before it. What rested on it can be asked for by
        its number, and it stays readable.
      </p>
      <CommandForm
        path="/api/calibrations/{calibration}/reversal"
        address={{ calibration }}
        body={(values) => ({ reason: values.text('/reason') })}
        submit={`Take ${calibration} out of account`}
        danger
        onDone={onClose}
        onCancel={onClose}
      >
        <TextAreaField name="/reason" label="What was wrong with it" required rows={2} />
      </CommandForm>
    </Dialog>
  );
}
