import { useState } from 'react';
import { writtenDate } from '../../../shared/written.js';
import { CodeField } from '../design/code-field.js';
import { useScan } from '../scan/scans.js';
import { server, type View } from '../wire/client.js';

type Instrument = View<'InstrumentStateView'>;

/** Whether an instrument may be used now, in words. */
const instrumentState = ({ usable, why, dueOn, name }: Instrument): string =>
  usable
    ? `${name}: calibrated${dueOn === null ? '' : `, due ${writtenDate(dueOn)}`}`
    : `${name}: may not be used: ${why?.detail ?? 'no calibration lets it be'}`;

/** Every instrument, or those of a kind. */
function useInstruments(kind?: string | null): readonly Instrument[] {
  const { data } = server.useQuery('get', '/api/instruments', {}, { staleTime: 60_000 });
  return (data ?? []).filter((one) => !kind || one.kind === kind);
}

/** The instrument that was used: scanned or picked, with its calibration beside it. The server refuses one out of calibration. */
export function InstrumentField({
  name,
  kind,
  required,
  value,
  onValue,
  listen,
}: {
  name: string;
  kind: string | null;
  required: boolean;
  value: string;
  onValue: (code: string) => void;
  /** Whether a scan of an instrument is for this field. */
  listen: boolean;
}) {
  const instruments = useInstruments(kind);
  const all = useInstruments();
  const [scanned, setScanned] = useState('');
  useScan((scan, text) => {
    const code = scan.kind === 'plain' ? text.trim() : '';
    if (!listen || !all.some((one) => one.code === code)) return false;
    setScanned(code);
    onValue(code);
    return true;
  });
  const chosen = all.find(({ code }) => code === value.trim());
  return (
    <CodeField
      name={name}
      label={kind === null ? 'Instrument' : `Instrument (${kind})`}
      hint={
        chosen !== undefined && !chosen.usable ? (
          <strong className="urgent">{instrumentState(chosen)}</strong>
        ) : scanned !== '' && scanned === value ? (
          'scanned'
        ) : (
          'scan it or pick it'
        )
      }
      required={required}
      choices={instruments.map((one) => ({ code: one.code, says: one.usable ? instrumentState(one) : '' }))}
      value={value}
      onValue={onValue}
    />
  );
}
