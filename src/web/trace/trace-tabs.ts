/** The parts of the place. */
export const TRACE_TABS = [
  { href: '/trace', title: 'Trace' },
  { href: '/trace/suspects', title: 'Suspects' },
];
