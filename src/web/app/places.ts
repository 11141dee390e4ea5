import { type ComponentType, lazy } from 'react';

export interface Place {
  readonly path: string;
  readonly title: string;
  readonly screen: ComponentType;
}

/** Every place of the client, by the plain word of the trade for the work done there. Each is loaded when it is visited. */
export const PLACES: readonly Place[] = [
  { path: '/', title: 'Today', screen: lazy(() => import('../today/today.js')) },
  { path: '/receiving', title: 'Receiving', screen: lazy(() => import('../receiving/receiving.js')) },
  { path: '/lots', title: 'Lots', screen: lazy(() => import('../lots/lots.js')) },
  { path: '/inspection', title: 'Inspection', screen: lazy(() => import('../inspection/inspection.js')) },
  { path: '/production', title: 'Production', screen: lazy(() => import('../production/production.js')) },
  { path: '/nonconformance', title: 'Nonconformance', screen: lazy(() => import('../nonconformance/nonconformance.js')) },
  { path: '/dispatch', title: 'Dispatch', screen: lazy(() => import('../dispatch/dispatch.js')) },
  { path: '/trace', title: 'Trace', screen: lazy(() => import('../trace/trace.js')) },
  { path: '/recall', title: 'Recall', screen: lazy(() => import('../recall/recall.js')) },
  { path: '/ledger', title: 'Ledger', screen: lazy(() => import('../ledger/ledger.js')) },
  { path: '/set-up', title: 'Set-up', screen: lazy(() => import('../set-up/set-up.js')) },
];
