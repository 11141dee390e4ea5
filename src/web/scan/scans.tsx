import { createContext, type ReactNode, useContext, useEffect, useMemo, useRef, useState } from 'react';
import { readScan } from '../../../shared/scan/read-scan.js';
import type { Scan } from '../../../shared/scan/scan.js';
import { localDate } from '../app/clock.js';
import { InDialog } from '../design/in-dialog.js';
import { fillField } from './field-for-code.js';
import { UnderstoodStrip } from './understood-strip.js';
import { hearScanner } from './wedge.js';

/** Takes a scan, or says false when it is not for it. */
type TakeScan = (scan: Scan, text: string) => boolean;

interface Listener {
  readonly latest: React.RefObject<TakeScan>;
  readonly inDialog: boolean;
}

interface Scans {
  /** The last to listen is asked first; while a dialog is open, only what listens in it. */
  readonly listeners: Set<Listener>;
  /** As if it had been scanned: for what is typed or pasted into a box. */
  readonly take: (text: string) => void;
}
const ScansOfPage = createContext<Scans | null>(null);

export interface Taken {
  readonly text: string;
  readonly scan: Scan;
  /** True when the page did something with it. */
  readonly byPage: boolean;
}

/** Hears the scanner on every page and hands what was understood to whoever listens; who takes it shows it. What nobody takes is shown here. */
export function ScanListener({ children }: { children: ReactNode }) {
  const [taken, setTaken] = useState<Taken | null>(null);
  const scans = useMemo<Scans>(() => {
    const listeners: Scans['listeners'] = new Set();
    const take = (text: string): void => {
      const scan = readScan(text, localDate());
      // In an open dialog a scan goes where the cursor is, on a page to who listens there first.
      const dialog = document.querySelector('dialog[open]') !== null;
      const asked = [...listeners].filter(({ inDialog }) => inDialog || !dialog).toReversed();
      const byPage = (dialog && fillField(scan, text)) || asked.some(({ latest }) => latest.current(scan, text)) || fillField(scan, text);
      setTaken({ text, scan, byPage });
    };
    return { listeners, take };
  }, []);
  useEffect(() => hearScanner(window, scans.take), [scans]);
  return (
    <ScansOfPage.Provider value={scans}>
      {taken === null || (taken.byPage && taken.scan.kind !== 'faulty') ? null : (
        <UnderstoodStrip taken={taken} onClose={() => setTaken(null)} />
      )}
      {children}
    </ScansOfPage.Provider>
  );
}

/** Listens for scans while the component is on the page. */
export function useScan(takeScan: TakeScan): void {
  const scans = useContext(ScansOfPage);
  const inDialog = useContext(InDialog);
  const latest = useRef(takeScan);
  useEffect(() => {
    latest.current = takeScan;
  });
  useEffect(() => {
    const listener = { latest, inDialog };
    scans?.listeners.add(listener);
    return () => void scans?.listeners.delete(listener);
  }, [scans, inDialog]);
}

/** Lets a box for typing or pasting pass on its text as a scan. */
export function useTakeScan(): (text: string) => void {
  const scans = useContext(ScansOfPage);
  return (text) => scans?.take(text);
}
